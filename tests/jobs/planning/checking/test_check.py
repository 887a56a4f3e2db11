"""Does the checker pass what keeps every rule, and name exactly the rule that is broken?"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jobs.planning.checking.check import check
from jobs.planning.checking.violations import Rule
from jobs.planning.problem import Day, Person, Plan, Problem, Run, Span, Stop, Visit
from jobs.planning.terms import ORDER
from tests.jobs.planning.checking.breaking import BREAKING, Breaking, targets
from tests.jobs.planning.checking.cases import sound_case

DICE = st.integers(0, 10**9).map(random.Random)
EVERY_BREAKING = [
    pytest.param(rule, breaking, id=f"{rule}-{breaking.__name__}")
    for rule, ways in BREAKING.items()
    for breaking in ways
]


@given(dice=DICE)
@settings(max_examples=60, deadline=None)
def test_a_plan_that_keeps_every_rule_has_no_violation(dice: random.Random) -> None:
    case = sound_case(dice)
    checked = check(case.problem, case.plan)
    assert [each.sentence for each in checked.violations] == []
    assert checked.sound


def test_every_rule_is_broken_here() -> None:
    assert set(BREAKING) == set(Rule)


@pytest.mark.parametrize(("rule", "breaking"), EVERY_BREAKING)
def test_a_broken_rule_is_named_and_no_other(rule: Rule, breaking: Breaking) -> None:
    @given(dice=DICE)
    @settings(max_examples=20, deadline=None)
    def named(dice: random.Random) -> None:
        stops = targets(sound_case(dice))
        assume(stops)
        broken = breaking(dice.choice(stops), dice)
        assume(broken)
        case, thing = broken
        violations = check(case.problem, case.plan).violations
        assert {each.code for each in violations} == {rule}
        about = [{*each.about.visits, *each.about.people, each.about.day} for each in violations]
        assert any(thing in each for each in about)
        said = f"day {thing + 1}" if isinstance(thing, int) else thing
        assert any(said in each.sentence.lower() for each in violations)

    named()


@given(dice=DICE)
@settings(max_examples=60, deadline=None)
def test_no_plan_is_too_broken_to_be_read(dice: random.Random) -> None:
    """Stops, people, days and starts thrown together anyhow: an answer, never an error."""
    problem = sound_case(dice).problem
    keys = [*(visit.key for visit in problem.visits), "nowhere"]
    who = [*(person.key for person in problem.people), "stranger"]
    runs = [
        Run(
            day=dice.randint(-1, 4),
            people=frozenset(dice.sample(who, dice.randint(0, 2))),
            stops=[
                Stop(
                    visit=dice.choice(keys),
                    start=dice.randint(-99, 5000),
                    stock_up=dice.random() < 0.2,
                )
                for _ in range(dice.randint(0, 4))
            ],
        )
        for _ in range(dice.randint(0, 4))
    ]
    checked = check(problem, Plan(runs=runs))
    assert all(each.sentence and "{" not in each.sentence for each in checked.violations)
    for names in ORDER.values():
        assert all(isinstance(checked.terms[name], int) for name in names)


def test_a_violation_reads_as_a_coordinator_would_say_it() -> None:
    tuesday = Day(index=0, span=Span(start=360, end=1200), name="Tue Dec. 1")
    people = [Person(key="7", name="Ruth Okafor", shifts={0: Span(start=420, end=930)})]
    visits = [
        Visit(key="a", name="Panel swap, 12 Mill St", place=1, duration=120),
        Visit(key="b", name="Rough-in, 4 Quarry Rd", place=2, duration=60),
    ]
    travel = [[0, 10, 20], [10, 0, 25], [20, 25, 0]]
    problem = Problem(days=[tuesday], people=people, visits=visits, travel=travel)
    stops = [Stop(visit="a", start=480), Stop(visit="b", start=610)]
    plan = Plan(runs=[Run(day=0, people=frozenset({"7"}), stops=stops)])
    assert [each.sentence for each in check(problem, plan).violations] == [
        "Ruth Okafor would start Rough-in, 4 Quarry Rd on Tue Dec. 1, 10:10 a.m.; coming from "
        "Panel swap, 12 Mill St the earliest is 10:25 a.m."
    ]
    away = replace(problem, people=[replace(people[0], shifts={})])
    assert check(away, plan).violations[0].sentence == "Ruth Okafor is away on Tue Dec. 1."
