"""Does a repair better a plan, and leave alone what was not opened?"""

from __future__ import annotations

from jobs.planning.checking.check import check
from jobs.planning.problem import Need, Problem, Visit
from jobs.planning.solve.teams.draft import Draft
from jobs.planning.solve.teams.model import Model, model
from jobs.planning.solve.teams.repair import Opened, Repair
from tests.jobs.planning.solve.teams import town


def wasteful() -> tuple[Problem, Model, Draft]:
    """Two in one team for two visits that each could do alone, and a third visit the day after."""
    people = [town.person("ann", wiring=1), town.person("bob", wiring=1)]
    visits = [
        Visit(key=key, duration=60, priority=1, cost=1, needs=[Need(domain="wiring")])
        for key in ("a", "b", "c")
    ]
    problem = town.problem(people, visits)
    everybody = frozenset({0, 1})
    draft = Draft(
        {0: (0, 0), 1: (0, 0), 2: (1, 0)},
        {0: 0, 1: 60, 2: 120},
        {(0, 0): everybody, (1, 0): everybody},
    )
    return problem, model(problem), draft


def test_opening_everything_finds_the_best_plan_there_is() -> None:
    problem, made, draft = wasteful()
    assert draft.completion(made) == 29 * 180
    opened = Opened(frozenset(draft.members), [], [1, 1, 1])
    repaired, settled = Repair(made, draft, opened).solve(1.0, 0)
    assert settled
    assert repaired.completion(made) == 29 * 120
    assert check(problem, repaired.plan(made)).sound


def test_a_visit_of_another_team_may_come_in() -> None:
    problem, made, draft = wasteful()
    opened = Opened(frozenset({(0, 0)}), [2], [1, 1, 1])
    repaired, _ = Repair(made, draft, opened).solve(1.0, 0)
    assert repaired.place[2][0] == 0
    assert repaired.completion(made) == 29 * 120
    assert check(problem, repaired.plan(made)).sound


def test_what_is_not_opened_stays_as_it_is() -> None:
    _, made, draft = wasteful()
    opened = Opened(frozenset({(0, 0)}), [], [1, 1, 1])
    repaired, _ = Repair(made, draft, opened).solve(1.0, 0)
    assert (repaired.place[2], repaired.start[2]) == ((1, 0), 120)
    assert repaired.completion(made) == 29 * 180
