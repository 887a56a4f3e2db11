"""How is a plan made better, round by round? Ruin and recreate under simulated annealing
(slack induction by string removals, Christiaens and Vanden Berghe 2020, from memory)."""

from __future__ import annotations

from jobs.planning.solve.change import settle
from jobs.planning.solve.compiled import compiled
from jobs.planning.solve.insert import BLINK, BY_WORTH, put_back, recreate
from jobs.planning.solve.ruin import ruin
from jobs.planning.solve.state import (
    DURATION,
    LOAD,
    NODE_STATE,
    OBJECTIVE,
    SIZE,
    STOCK,
    TERMS,
    TOUCHED,
    Fixed,
    State,
)
from jobs.planning.solve.total import accepts, add_up_plan, better


@compiled
def begin(a: Fixed, s: State) -> None:
    """The first plan: greedily, what counts most first, each visit where it costs least."""
    for run in range(len(s.on)):
        settle(a, s, run)
    recreate(a, s, 0.0, BY_WORTH)
    add_up_plan(a, s)


@compiled
def admits(a: Fixed, s: State, x: int) -> bool:
    """Puts one visit into a plan where it costs least, whatever else it makes worse; whether it
    could be."""
    for run in range(len(s.on)):
        settle(a, s, run)
    return put_back(a, s, x, 0.0)


@compiled
def anneal(
    a: Fixed,
    s: State,
    kept: State,
    best: State,
    heat: tuple[float, float],
    rounds: int,
) -> int:
    """So many rounds from the plan in `s` (its like in `kept`), heat falling geometrically between
    the two given; `best` is replaced by any better plan. Returns the last round that did (1, 2,
    ...; 0: none)."""
    found = 0
    warm, cool = heat[0], (heat[1] / heat[0]) ** (1.0 / max(rounds, 1))
    for i in range(rounds):
        warm *= cool
        ruin(a, s)
        recreate(a, s, BLINK, -1)
        add_up_plan(a, s)
        if accepts(a, s, kept.total, warm):
            copy(a, s, kept, False)
            if better(s.total, best.total):
                copy(a, s, best, True)
                found = i + 1
        else:
            copy(a, kept, s, False)
        s.on[:, TOUCHED] = False
    return found


@compiled
def copy(a: Fixed, source: State, target: State, everything: bool) -> None:
    """One plan over another: the runs touched in either, or all."""
    for run in range(len(source.on)):
        if everything or source.on[run, TOUCHED] or target.on[run, TOUCHED]:
            copy_run(a, source, target, run)
    for x in range(len(source.at)):
        for k in range(NODE_STATE):
            target.at[x, k] = source.at[x, k]
    for k in range(TERMS):
        target.total[k] = source.total[k]


@compiled
def copy_run(a: Fixed, source: State, target: State, run: int) -> None:
    n = source.on[run, SIZE]
    for k in (SIZE, STOCK, LOAD):
        target.on[run, k] = source.on[run, k]
    for k in range(n):
        target.seq[run, k] = source.seq[run, k]
    for k in range(n + 1):
        target.late[run, k] = source.late[run, k]
    for k in range(TERMS):
        target.cost[run, k] = source.cost[run, k]
    if a.setting[OBJECTIVE] == DURATION:
        for i in range(n + 2):
            for j in range(i, n + 2):
                for k in range(3):
                    target.segment[run, i, j, k] = source.segment[run, i, j, k]
