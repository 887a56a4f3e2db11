"""Is every rule that teams are not planned by refused in words?"""

from __future__ import annotations

import dataclasses

import pytest

from jobs.planning.problem import After, Day, Person, Pin, Problem, Span, Supervision, Visit
from jobs.planning.solve.refusing import CannotPlan
from jobs.planning.solve.teams import solve
from jobs.planning.solve.teams.refusing import refuse
from tests.jobs.planning.solve.teams import town

GOOD = town.problem([town.person("ann")], [Visit(key="a"), Visit(key="b")])
DAY = Span(start=0, end=120)
BREAK = Day(index=0, span=DAY, breaks=[Span(start=30, end=40)])
HALF = Person(key="ann", shifts={0: Span(start=0, end=60)})


def test_a_problem_by_the_rules_that_are_known_is_not_refused() -> None:
    refuse(GOOD)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"objective": "firm"}, "completion"),
        ({"regroup": False}, "completion"),
        ({"travel": [[3]]}, "travel"),
        ({"days": [BREAK]}, "breaks"),
        ({"people": [HALF]}, "all day"),
        ({"supervision": Supervision(domain="wiring", level=2)}, "supervision"),
        ({"visits": [Visit(key="a", pin=Pin(day=0))]}, "pin"),
        ({"visits": [Visit(key="a", crews=2)]}, "several crews"),
        ({"visits": [Visit(key="a", windows=[DAY])]}, "windows"),
        ({"visits": [Visit(key="a", needs_tools=frozenset({"lift"}))]}, "tools"),
        ({"visits": [Visit(key="a"), Visit(key="b", after=[After(visit="a", most=9)])]}, "wait"),
    ],
)
def test_a_rule_that_is_not_known_is_named(change: dict, words: str) -> None:
    problem: Problem = dataclasses.replace(GOOD, **change)
    with pytest.raises(CannotPlan, match=words):
        solve(problem, iterations=1)
