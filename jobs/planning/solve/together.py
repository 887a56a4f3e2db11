"""Where do several crews meet for one visit, all starting at the same time?"""

from __future__ import annotations

from jobs.planning.solve.allowed import may_stand
from jobs.planning.solve.chance import draw
from jobs.planning.solve.change import leave, put
from jobs.planning.solve.compiled import compiled
from jobs.planning.solve.price import NO_PRICE, price
from jobs.planning.solve.state import (
    CREWS,
    DAY,
    EXACT,
    HOLD,
    NEVER,
    SIZE,
    SPOT_LINE,
    SPOT_RUN,
    STARTS,
    Fixed,
    State,
)
from jobs.planning.solve.timing import walk

LOOKED_AT = 12  # starting times tried per day


@compiled
def put_crews(a: Fixed, s: State, x: int, hold: int, limit: float) -> bool:
    """All nodes of the visit of head `x` at the time and on the runs where they cost least
    together. Times tried: those at which one of the crews could start earliest."""
    best, when, day = limit, -1, -1
    seen = -1
    for run in range(len(s.on)):
        if a.run[run, DAY] <= seen:
            continue
        seen = a.run[run, DAY]
        tried = 0
        for other in range(run, len(s.on)):
            if a.run[other, DAY] != seen or not may_stand(a, s, x, other):
                continue
            for p in range(s.on[other, SIZE] + 1):
                if tried >= LOOKED_AT and draw(s.rng) < 0.7:
                    continue
                start = first_start(a, s, x, other, p, hold)
                if start < NEVER:
                    tried += 1
                    one = at_once(a, s, x, seen, start, hold, best, False)
                    if one < best:
                        best, when, day = one, start, seen
    if when >= 0:
        at_once(a, s, x, day, when, hold, NO_PRICE, True)
    return when >= 0


@compiled
def first_start(a: Fixed, s: State, x: int, run: int, p: int, hold: int) -> int:
    """When `x` would start as p-th stop of a run; NEVER: it cannot."""
    s.at[x, HOLD], s.at[x, EXACT] = hold, -1
    _, q = price(a, s, run, x, p, NO_PRICE)
    if not walk(a, s, run, x, p, q):
        return NEVER
    return int(s.scratch[STARTS, p])


@compiled
def at_once(
    a: Fixed, s: State, x: int, day: int, start: int, hold: int, limit: float, keep: bool
) -> float:
    """What it costs to have every node of a visit start then, each on its cheapest free run of the
    day; `keep`: they are put there. NO_PRICE: not enough crews can, or not below `limit`."""
    spent, put_so_far = 0.0, 0
    for y in range(x, x + a.node[x, CREWS]):
        s.at[y, HOLD], s.at[y, EXACT] = hold, start
        best, where, at = limit - spent, -1, -1
        for run in range(len(s.on)):
            if a.run[run, DAY] != day or not may_stand(a, s, y, run) or taken(a, s, x, y, run):
                continue
            for p in range(s.on[run, SIZE] + 1):
                one = price(a, s, run, y, p, best)[0]
                if one < best:
                    best, where, at = one, run, p
        if where < 0:
            break
        spent += best
        put_so_far += 1
        s.at[y, SPOT_RUN], s.at[y, SPOT_LINE] = where, at
    for y in range(x, x + a.node[x, CREWS]):
        if not keep:
            leave(s, y)
        elif put_so_far == a.node[x, CREWS]:
            put(a, s, y, s.at[y, SPOT_RUN], s.at[y, SPOT_LINE])
    return spent if put_so_far == a.node[x, CREWS] else NO_PRICE


@compiled
def taken(a: Fixed, s: State, x: int, y: int, run: int) -> bool:
    """Whether an earlier node of the same visit has been given that run."""
    found = False
    for z in range(x, y):
        found = found or s.at[z, SPOT_RUN] == run
    return found
