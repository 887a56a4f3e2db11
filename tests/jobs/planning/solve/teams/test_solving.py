"""Are plans with teams formed each day sound, repeatable, and the best where that is known?"""

from __future__ import annotations

import pytest

from jobs.planning.checking.check import check
from jobs.planning.problem import Need, Problem, Visit
from jobs.planning.solve.refusing import CannotPlan
from jobs.planning.solve.teams import solve
from tests.jobs.planning.solve.teams import town
from tests.published.instance import DATA, MISSING
from tests.published.roadef2007 import BEST_KNOWN, read

FOLDER = DATA / "roadef2007"


@pytest.mark.parametrize("seed", range(8))
def test_small_problems_are_solved_as_well_as_by_trying_everything(seed: int) -> None:
    problem = town.by_chance(seed)
    found = solve(problem, iterations=12, seed=1)
    assert found.terms["completion"] == town.least_completion(problem)


@pytest.mark.skipif(not FOLDER.is_dir(), reason=MISSING)
@pytest.mark.parametrize(("name", "rounds"), [("A1", 4), ("A2", 4), ("A3", 4), ("A4", 4)])
def test_the_smallest_published_problems_reach_their_best_known_value(
    name: str, rounds: int
) -> None:
    """ROADEF 2007 challenge; best known values proved optimal by a plain constraint model."""
    found = solve(read(FOLDER / name).problem, iterations=rounds, seed=1)
    assert found.terms["completion"] == BEST_KNOWN[name]


@pytest.mark.skipif(not FOLDER.is_dir(), reason=MISSING)
def test_the_same_seed_and_rounds_give_the_same_plan() -> None:
    problem = read(FOLDER / "A4").problem
    first, second = (solve(problem, iterations=3, seed=5) for _ in range(2))
    assert first.plan == second.plan
    assert first.rounds == second.rounds == 3


def test_rounds_make_a_plan_no_worse_and_each_better_plan_is_told() -> None:
    problem = town.by_chance(3)
    told: list[int] = []
    start = solve(problem, iterations=0)
    found = solve(problem, iterations=16, on_progress=lambda now: told.append(now.terms[0]))
    assert found.terms["completion"] <= start.terms["completion"]
    assert told == sorted(told, reverse=True)


def test_it_ends_when_told_to() -> None:
    assert solve(town.by_chance(0), seconds=60, stop=lambda: True).rounds == 0


def two_at_once() -> Problem:
    wiring = [Need(domain="wiring", count=2)]
    visits = [
        Visit(key="a", duration=120, priority=1, cost=9, needs=wiring),
        Visit(key="b", duration=120, priority=2, cost=5, needs=wiring),
    ]
    return town.problem([town.person("ann", wiring=1), town.person("bob", wiring=1)], visits)


def test_what_need_not_be_done_is_left_out_within_its_cost() -> None:
    problem = two_at_once()
    paid = town.problem(problem.people, problem.visits, may_cost=5)
    assert solve(problem, iterations=4).terms["completion"] == 28 * 120 + 14 * 240 + 240
    left = solve(paid, iterations=4)
    assert [stop.visit for run in left.plan.runs for stop in run.stops] == ["a"]
    assert left.terms["completion"] == 28 * 120 + 120


def test_a_problem_without_room_says_whom_it_has_no_room_for() -> None:
    problem = two_at_once()
    must = [Visit(key=v.key, duration=120, needs=v.needs, optional=False) for v in problem.visits]
    with pytest.raises(CannotPlan, match="room for b"):
        solve(town.problem(problem.people, must, days=1), iterations=1)


def test_visits_on_hold_are_left_out() -> None:
    people = [town.person("ann")]
    held = [Visit(key="a", held="no permit"), Visit(key="b", priority=1, optional=False)]
    problem = town.problem(people, held)
    found = solve(problem, iterations=2)
    assert [stop.visit for run in found.plan.runs for stop in run.stops] == ["b"]
    assert check(problem, found.plan).sound


def test_nothing_to_do_is_an_empty_plan() -> None:
    assert solve(town.problem([town.person("ann")], []), iterations=3).plan.runs == []
