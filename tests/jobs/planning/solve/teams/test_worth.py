"""Are the smallest teams, the turns of priorities and what is left out found rightly?"""

from __future__ import annotations

import itertools

import pytest

from jobs.planning.problem import After, Need, Visit
from jobs.planning.solve.teams.model import model
from jobs.planning.solve.teams.worth import best_left_out, fewest, worths
from tests.jobs.planning.solve.teams import town

PEOPLE = [
    town.person("ann", wiring=3),
    town.person("bob", wiring=1, fire=2),
    town.person("cy", fire=1),
    town.person("di", wiring=2, fire=1),
]


@pytest.mark.parametrize(
    "needs",
    [
        [Need(domain="wiring", level=2, count=2), Need(domain="fire", level=1, count=1)],
        [Need(domain="wiring", level=1, count=3), Need(domain="fire", level=2, count=1)],
        [Need(domain="wiring", level=4)],
        [],
    ],
)
def test_the_smallest_team_is_the_one_found_by_trying_all(needs: list[Need]) -> None:
    sizes = [
        size
        for size in range(1, len(PEOPLE) + 1)
        for team in itertools.combinations(PEOPLE, size)
        if all(sum(p.level(n.domain) >= n.level for p in team) >= n.count for n in needs)
    ]
    made = model(town.problem(PEOPLE, [Visit(key="a", needs=needs)]))
    assert fewest(made) == [min(sizes, default=None)]


def test_a_visit_is_worth_what_waits_for_it() -> None:
    visits = [
        Visit(key="first", priority=3),
        Visit(key="then", priority=2, after=[After(visit="first")]),
        Visit(key="one", priority=1),
        Visit(key="four", priority=4),
    ]
    made = model(town.problem(PEOPLE, visits))
    assert worths(made, (2, 1, 3)) == [47, 47, 33, 1]
    assert worths(made, (1, 2, 3)) == [19, 19, 47, 1]


def test_what_is_left_out_gains_most_within_its_cost_and_takes_along_what_comes_after() -> None:
    visits = [
        Visit(key="a", cost=2),
        Visit(key="b", cost=3, after=[After(visit="a")]),
        Visit(key="c", cost=4),
        Visit(key="d", cost=1, optional=False),
    ]
    for budget, best in ((2, set()), (4, {2}), (5, {0, 1}), (9, {0, 1, 2})):
        made = model(town.problem(PEOPLE, visits, may_cost=budget))
        assert best_left_out(made, [10, 0, 5, 99]) == best
