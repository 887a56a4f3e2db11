"""How much room does a visit take, how much is it worth to have it early, and what is left out?

Two things the objective itself does not say, since it looks at the last ends only. Room is the
time of the fewest people who can do a visit. Priorities get their turn in some order; with each
order goes a worth: what waits for a visit are its own priority and all that have their turn later.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ortools.sat.python import cp_model

from jobs.planning.solve.teams.draft import WEIGHTS
from jobs.planning.solve.teams.model import Model

EFFORT = 2.0  # deterministic seconds of the solver for one such question


def fewest(model: Model) -> list[int | None]:
    """Of each visit the fewest people who can do it; None: all of them together cannot."""
    known: dict[tuple[tuple[int, int], ...], int | None] = {}
    found = []
    for task in model.tasks:
        asked = tuple(sorted(task.asks.items()))
        if asked not in known:
            known[asked] = _smallest_team(model, task.asks)
        found.append(known[asked])
    return found


def _smallest_team(model: Model, asks: Mapping[int, int]) -> int | None:
    asking = cp_model.CpModel()
    comes = [asking.new_bool_var("") for _ in model.people]
    for skill, count in asks.items():
        asking.add(sum(c for p, c in enumerate(comes) if model.able[p, skill]) >= count)
    asking.minimize(sum(comes))
    solver = one_worker(EFFORT, 0)
    if solver.solve(asking) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    return sum(solver.boolean_value(c) for c in comes)


def worths(model: Model, turns: Sequence[int]) -> list[int]:
    """Of each visit what waits for it where priorities have their turns so; a visit before others
    is worth as much as the most worthy of them."""
    of_priority, rest = {}, 1 + sum(WEIGHTS.values())
    for priority in turns:
        of_priority[priority] = rest
        rest -= WEIGHTS[priority]
    worth = [of_priority.get(task.visit.priority, 1) for task in model.tasks]
    changed = True
    while changed:
        changed = False
        for later, task in enumerate(model.tasks):
            for lag in task.after:
                if worth[lag.visit] < worth[later]:
                    worth[lag.visit], changed = worth[later], True
    return worth


def best_left_out(model: Model, gains: Sequence[int]) -> set[int]:
    """Which visits to leave out for the greatest gain: optional ones, with all that come after
    them, within what they may cost together."""
    asking = cp_model.CpModel()
    out = [asking.new_bool_var("") for _ in model.tasks]
    for i, task in enumerate(model.tasks):
        if not task.visit.optional:
            asking.add(out[i] == 0)
        for lag in task.after:
            asking.add_implication(out[lag.visit], out[i])
    if model.may_cost is not None:
        costs = sum(task.visit.cost * o for task, o in zip(model.tasks, out, strict=True))
        asking.add(costs <= model.may_cost)
    asking.maximize(sum(gain * o for gain, o in zip(gains, out, strict=True)))
    solver = one_worker(EFFORT, 0)
    if solver.solve(asking) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return set()
    return {i for i, o in enumerate(out) if solver.boolean_value(o)}


def one_worker(effort: float, seed: int) -> cp_model.CpSolver:
    """A solver that gives the same answer to the same question: one worker, effort not time."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = effort
    solver.parameters.random_seed = seed
    return solver
