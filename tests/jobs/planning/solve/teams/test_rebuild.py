"""Is a plan that was rebuilt by chance still one that keeps every rule?"""

from __future__ import annotations

import dataclasses
import random

import pytest

from jobs.planning.checking.check import check
from jobs.planning.problem import After, Need, Problem, Visit
from jobs.planning.solve.teams.beginning import beginnings
from jobs.planning.solve.teams.model import model
from jobs.planning.solve.teams.rebuild import Rebuild
from tests.jobs.planning.solve.teams import town


def crowded(seed: int) -> Problem:
    """Twelve visits, some after others, for four people over six days."""
    dice = random.Random(seed)
    days = range(6)
    people = [
        town.person(key, [d for d in days if dice.random() < 0.8], wiring=dice.randint(1, 3))
        for key in ("ann", "bob", "cy", "di")
    ]
    visits = [
        Visit(
            key=str(n),
            duration=dice.choice([15, 60, 120]),
            priority=dice.randint(1, 4),
            cost=dice.randint(1, 3),
            needs=[Need(domain="wiring", level=1, count=dice.randint(1, 2))],
            after=[After(visit=str(dice.randrange(n)), least=5)]
            if n and dice.random() < 0.4
            else [],
        )
        for n in range(12)
    ]
    return town.problem(people, visits, days=6, may_cost=4)


@pytest.mark.parametrize("seed", range(3))
def test_each_rebuilt_plan_that_may_be_taken_is_sound(seed: int) -> None:
    problem = crowded(seed)
    made = model(problem)
    first = beginnings(made)[0]
    rebuild, draft, taken = Rebuild(made, first, random.Random(seed)), first.draft, 0
    for _ in range(60):
        new = rebuild.next(draft)
        if made.affordable(new.left_out(made)):
            draft, taken = new, taken + 1
            assert check(problem, draft.plan(made)).violations == []
    assert taken > 10


def test_what_comes_after_a_visit_goes_with_it() -> None:
    after = dataclasses.replace(Visit(key="b", cost=1), after=[After(visit="a")])
    problem = town.problem([town.person("ann")], [Visit(key="a", cost=1), after])
    made = model(problem)
    first = beginnings(made)[0]
    assert Rebuild(made, first, random.Random(0)).with_all_after(first.draft, {0}) == {0, 1}
