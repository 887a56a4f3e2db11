"""Are the invented weeks of the right size and the same each time, and is the hand rule fair?"""

from __future__ import annotations

from dataclasses import replace

import pytest

from jobs.planning.checking.check import check
from jobs.planning.problem import Person, Problem, Span, Visit
from tests.bench.by_hand import by_hand
from tests.bench.weeks import SIZES, week, week_of


@pytest.mark.parametrize("name", ["small", "middle"])
@pytest.mark.parametrize("seed", range(4))
def test_weeks_have_what_makes_planning_hard(name: str, seed: int) -> None:
    problem = week(name, seed)
    crews, visits = SIZES[name]
    assert (len(problem.crews), len(problem.visits)) == (crews, visits)
    assert len({visit.key for visit in problem.visits}) == visits
    found = {
        "promises": any(visit.promised for visit in problem.visits),
        "windows": any(visit.windows for visit in problem.visits),
        "holds": any(visit.held_until for visit in problem.visits),
        "order": any(visit.after for visit in problem.visits),
    }
    assert all(found.values()), found
    if name == "middle":
        assert any(visit.crews > 1 for visit in problem.visits)
        assert any(len(person.shifts) < len(problem.days) for person in problem.people)


def test_some_jobs_are_held_without_an_end() -> None:
    problems = [week("middle", seed) for seed in range(4)]
    assert any(visit.held for problem in problems for visit in problem.visits)


def test_a_seed_makes_the_same_weeks_each_time_and_another_seed_others() -> None:
    assert week("middle", 3) == week("middle", 3)
    assert week("middle", 3) != week("middle", 4)


@pytest.mark.parametrize("seed", range(12))
def test_every_plan_by_hand_is_sound(seed: int) -> None:
    problem = week_of(1 + seed, 12 * (1 + seed), seed)
    plan = by_hand(problem)
    checked = check(problem, plan)
    assert [each.sentence for each in checked.violations] == []
    planned = sum(len(run.stops) for run in plan.runs)
    assert planned > 0.75 * len(problem.visits)


def test_the_hand_rule_keeps_a_promise_where_there_is_a_gap_for_it() -> None:
    problem = week_of(1, 3, 0)
    day = problem.days[0]
    told = Span(start=day.span.start + 240, end=day.span.start + 300)
    person = Person(key="one", home=0, shifts={day.index: day.span})
    visits = [
        Visit(key="long", duration=200, weight=9, due=0),
        Visit(key="told", duration=60, promised=told),
        Visit(key="never", duration=9999),
    ]
    small = Problem(
        days=[day], people=[person], visits=visits, travel=[[0]], crews=[frozenset({"one"})]
    )
    terms = check(small, by_hand(small)).terms
    assert (terms["broken"], terms["undone"]) == (0, 1)
    away = replace(small, people=[replace(person, shifts={})])
    assert check(away, by_hand(away)).terms["broken"] == 1
