"""Does the search keep every rule, repeat itself, and find the best plan where it can be known?"""

from __future__ import annotations

from dataclasses import replace

import pytest

from jobs.planning.checking.check import check
from jobs.planning.problem import Problem, Span, Visit
from jobs.planning.solve.refusing import CannotPlan
from jobs.planning.solve.solving import Progress, solve
from jobs.planning.terms import rank
from tests.jobs.planning.solve.exhaustive import best
from tests.jobs.planning.solve.weeks import week

ROUNDS = 600


def found(problem: Problem, rounds: int = ROUNDS, seed: int = 1) -> tuple[int, ...]:
    solution = solve(problem, iterations=rounds, seed=seed)
    return rank(solution.terms, problem.objective)


def tiny(seed: int) -> Problem:
    """Two crews, one day, four visits with promises, windows and dues, none linked."""
    problem = week(seed, crews=2, visits=4, days=1)
    alone = [
        replace(visit, after=(), together=None, crews=1, needs_tools=frozenset(), needs_parts={})
        for visit in problem.visits
    ]
    return replace(problem, visits=alone)


@pytest.mark.parametrize("seed", range(12))
def test_on_tiny_problems_it_finds_what_looking_at_every_plan_finds(seed: int) -> None:
    problem = tiny(seed)
    assert found(problem) == best(problem)


@pytest.mark.parametrize("seed", range(20))
def test_plans_of_whole_weeks_keep_every_rule_and_its_own_terms_are_the_checkers(seed: int) -> None:
    problem = week(seed, crews=4, visits=30, days=4)
    told: list[Progress] = []
    solution = solve(problem, iterations=100, seed=seed, on_progress=told.append)
    checked = check(problem, solution.plan)
    assert checked.sound
    assert checked.terms == solution.terms
    if told:
        assert told[-1].terms[1:] == rank(solution.terms, "firm")
    assert solution.reasons.keys() | solution.left_out.keys() == {v.key for v in problem.visits}


def test_the_same_seed_and_rounds_give_the_same_plan() -> None:
    problem = week(3, crews=4, visits=30, days=4)
    one, two = (solve(problem, iterations=150, seed=9) for _ in range(2))
    assert one.plan == two.plan
    assert one.reasons == two.reasons
    assert solve(problem, iterations=150, seed=10).plan != one.plan


@pytest.mark.parametrize("seed", range(6))
def test_a_rule_less_never_makes_the_best_plan_worse(seed: int) -> None:
    problem = tiny(seed)
    before = found(problem)
    for number, visit in enumerate(problem.visits):
        free = replace(visit, windows=(), needs=(), heads=1, due=None, promised=None, pin=None)
        visits = [*problem.visits[:number], free, *problem.visits[number + 1 :]]
        assert found(replace(problem, visits=visits)) <= before


def test_more_rounds_are_never_worse_and_the_first_plan_is_made_greedily() -> None:
    problem = week(5, crews=4, visits=40, days=3)
    ranks = [found(problem, rounds) for rounds in (1, 50, 400)]
    assert ranks[-1] <= ranks[0]


def test_it_stops_when_told_and_when_time_is_over() -> None:
    problem = week(5, crews=3, visits=20, days=3)
    assert solve(problem, seconds=30, stop=lambda: True).rounds == 0
    assert solve(problem, seconds=0.2).rounds > 0


def test_what_was_published_stays_where_it_is() -> None:
    problem = week(8, crews=3, visits=15, days=3)
    published = solve(problem, iterations=300, seed=1)
    again = solve(replace(problem, published=published.plan), iterations=300, seed=2)
    assert (again.terms["moved"], again.terms["shifted"]) == (0, 0)


def test_two_crews_start_at_once_and_the_same_people_come_again() -> None:
    problem = week(1, crews=3, visits=6, days=2, everything=False)
    first, second, third, *rest = (
        replace(visit, needs=(), heads=1, needs_tools=frozenset(), needs_parts={}, due=None)
        for visit in problem.visits
    )
    visits = [replace(first, crews=2), second, replace(third, together=second.key), *rest]
    plan = solve(replace(problem, visits=visits), iterations=300, seed=1).plan
    runs = {
        key: [(run.people, stop.start) for run in plan.runs for stop in run.stops
              if stop.visit == key]
        for key in (first.key, second.key, third.key)
    }  # fmt: skip
    assert len(runs[first.key]) == 2
    assert len({start for _, start in runs[first.key]}) == 1
    assert [people for people, _ in runs[second.key]] == [people for people, _ in runs[third.key]]


@pytest.mark.parametrize(
    ("change", "word"),
    [({"regroup": True}, "grouped anew"), ({"objective": "completion"}, "Completion")],
)
def test_what_is_planned_elsewhere_is_refused_in_words(
    change: dict[str, object], word: str
) -> None:
    with pytest.raises(CannotPlan, match=word):
        solve(replace(week(1), **change))


def test_what_has_to_be_done_and_cannot_is_named() -> None:
    problem = week(2, crews=2, visits=3, days=1, everything=False)
    impossible = replace(problem.visits[0], heads=9, optional=False, name="The big pull")
    with pytest.raises(CannotPlan, match="The big pull"):
        solve(replace(problem, visits=[impossible, *problem.visits[1:]]), iterations=5)


def test_a_problem_without_visits_or_people_has_the_empty_plan() -> None:
    problem = week(2, crews=2, visits=3, days=1)
    assert solve(replace(problem, visits=[]), iterations=5).plan.runs == []
    nobody = solve(replace(problem, people=[], crews=[]), iterations=5)
    assert nobody.plan.runs == []
    assert nobody.left_out.keys() == {visit.key for visit in problem.visits}


def test_reasons_name_the_rule_that_decided() -> None:
    problem = week(4, crews=2, visits=5, days=1, everything=False)
    plain = [replace(v, needs=(), heads=1, needs_tools=frozenset()) for v in problem.visits]
    two = replace(plain[0], name="Meter base", promised=Span(start=480, end=600))
    three: Visit = replace(plain[1], held="the permit")
    four: Visit = replace(plain[2], windows=[Span(start=100, end=120)])
    solution = solve(replace(problem, visits=[two, three, four, *plain[3:]]), iterations=50)
    assert "promised between 8 a.m. and 10 a.m." in solution.reasons[two.key]
    assert solution.left_out[three.key] == "It is on hold: the permit."
    assert "is free in its windows" in solution.left_out[four.key]
