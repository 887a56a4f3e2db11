"""What does a run cost, as it stands and with one more stop?"""

from __future__ import annotations

from jobs.planning.solve.compiled import compiled
from jobs.planning.solve.state import (
    BEGIN,
    BROKEN,
    COSTS,
    CREWS,
    DAY,
    DEPOT,
    DUE,
    DURATION,
    EFFORT,
    HEAD,
    LAST,
    LASTS,
    LATE,
    LINKS,
    LINKS_END,
    LOAD,
    MEMBERS,
    MEMBERS_END,
    MOVED,
    MOVES,
    NEVER,
    OBJECTIVE,
    ORIGIN,
    PLACE,
    PROMISED,
    PROMISED_END,
    RATE,
    RELEASE,
    SHIFT_END,
    SHIFTED,
    SIZE,
    START,
    STARTS,
    STOCK,
    SUM,
    TERMS,
    TOLD_DAY,
    TOLD_START,
    TOOLED,
    TOUCHED,
    WEIGHT,
    WHO,
    Fixed,
    State,
)
from jobs.planning.solve.timing import (
    alone,
    finish,
    join,
    measure,
    place_at,
    stretch,
    walk,
    with_inserted,
)

NO_PRICE = 1e300


@compiled
def carried(a: Fixed, s: State, run: int, x: int, p: int) -> int:
    """How many of the first stops can be done with what the crew carries from home."""
    n = s.on[run, SIZE] + (1 if x >= 0 else 0)
    for k in range(n):
        if not a.match[run, with_inserted(s, run, x, p, k)] & TOOLED:
            n = k
            break
    for part in range(a.parts.shape[1]):
        left = a.carry[run, part]
        for k in range(n):
            left -= a.parts[with_inserted(s, run, x, p, k), part]
            if left < 0:
                n = k
                break
    return int(n)


@compiled
def price(a: Fixed, s: State, run: int, x: int, p: int, limit: float) -> tuple[float, int]:
    """What it adds to have `x` as p-th stop of a run (x < 0: nothing new), in one number, and
    before which stop the depot is visited (-1: not). NO_PRICE: cannot be, or not below `limit`."""
    n = s.on[run, SIZE] + (1 if x >= 0 else 0)
    if a.setting[OBJECTIVE] == DURATION:
        if x >= 0 and without_depot(a, s, run, x, p)[0] * a.scale[EFFORT] >= limit + priced(
            a, s, run
        ):
            return NO_PRICE, -1
    elif x >= 0 and s.on[run, STOCK] < 0 and hopeless(a, s, run, x, p, limit):
        return NO_PRICE, -1
    first = carried(a, s, run, x, p)
    if first == n:
        return priced_with(a, s, run, x, p, -1), -1
    best, at = NO_PRICE, -1
    if a.setting[DEPOT] >= 0:
        for q in range(first + 1):
            one = priced_with(a, s, run, x, p, q)
            if one < best:
                best, at = one, q
    return best, at


@compiled
def priced(a: Fixed, s: State, run: int) -> float:
    """The duration of a run as it stands, weighed."""
    return float(s.cost[run, EFFORT] * a.scale[EFFORT])


@compiled
def priced_with(a: Fixed, s: State, run: int, x: int, p: int, q: int) -> float:
    """What the run costs more with the depot before stop `q` of the new order."""
    if a.setting[OBJECTIVE] == DURATION:
        took = without_depot(a, s, run, x, p)[0] if q < 0 else by_depot(a, s, run, x, p, q)
        return NO_PRICE if took >= NEVER else took * a.scale[EFFORT] - priced(a, s, run)
    if not walk(a, s, run, x, p, q):
        return NO_PRICE
    add_up(a, s, run, x, p, q)
    more = 0.0
    for k in range(TERMS):
        more += a.scale[k] * (s.scratch[SUM, k] - s.cost[run, k])
    return more


@compiled
def too_late(a: Fixed, s: State, run: int, x: int, p: int) -> bool:
    """Whether a look at the neighbours in line already rules the place out."""
    n = s.on[run, SIZE]
    t, here = a.run[run, BEGIN], a.run[run, ORIGIN]
    if p > 0:
        v = s.seq[run, p - 1]
        t, here = finish(a, run, s.at[v, START], a.node[v, LASTS]), a.node[v, PLACE]
    t = max(t + a.travel[here, a.node[x, PLACE]], a.node[x, RELEASE]) + a.node[x, LASTS]
    there = a.run[run, ORIGIN] if p == n else a.node[s.seq[run, p], PLACE]
    return bool(t + a.travel[a.node[x, PLACE], there] > s.late[run, p])


@compiled
def hopeless(a: Fixed, s: State, run: int, x: int, p: int, limit: float) -> bool:
    """Whether a look at the neighbours in line already rules a place out, or prices it out."""
    return at_least(a, s, run, x, p) >= limit or too_late(a, s, run, x, p)


@compiled
def at_least(a: Fixed, s: State, run: int, x: int, p: int) -> float:
    """What `x` adds as p-th stop in driving and by moving alone. The way by the depot, lateness
    and overtime only come on top."""
    before, here, after = place_at(a, s, run, p), a.node[x, PLACE], place_at(a, s, run, p + 1)
    driven = a.travel[before, here] + a.travel[here, after] - a.travel[before, after]
    moved = a.node[x, CREWS] == 1 and a.match[run, x] & MOVES > 0
    return float(driven * a.run[run, RATE] * a.scale[EFFORT] + moved * a.scale[MOVED])


@compiled
def without_depot(a: Fixed, s: State, run: int, x: int, p: int) -> tuple[int, int, int]:
    """The stretch of a whole run with `x` inserted, no depot on the way."""
    end = s.on[run, SIZE] + 1
    if x < 0:
        return stretch(s, run, 0, end)
    here = a.node[x, PLACE]
    front = join(stretch(s, run, 0, p), alone(a, x), a.travel[place_at(a, s, run, p), here])
    return join(front, stretch(s, run, p + 1, end), a.travel[here, place_at(a, s, run, p + 1)])


@compiled
def by_depot(a: Fixed, s: State, run: int, x: int, p: int, q: int) -> int:
    """How long a run takes with `x` inserted at `p` and the depot before stop `q`."""
    end = s.on[run, SIZE] + 1
    depot = (0, a.run[run, BEGIN], a.run[run, LAST])
    if x < 0:
        front = join(
            stretch(s, run, 0, q), depot, a.travel[place_at(a, s, run, q), a.setting[DEPOT]]
        )
        way = a.travel[a.setting[DEPOT], place_at(a, s, run, q + 1)]
        return join(front, stretch(s, run, q + 1, end), way)[0]
    here, one = a.node[x, PLACE], alone(a, x)
    before, after = place_at(a, s, run, p), place_at(a, s, run, p + 1)
    if q <= p:
        front = join(
            stretch(s, run, 0, q), depot, a.travel[place_at(a, s, run, q), a.setting[DEPOT]]
        )
        if q < p:
            way = a.travel[a.setting[DEPOT], place_at(a, s, run, q + 1)]
            front = join(front, stretch(s, run, q + 1, p), way)
        front = join(front, one, a.travel[a.setting[DEPOT] if q == p else before, here])
        return join(front, stretch(s, run, p + 1, end), a.travel[here, after])[0]
    front = join(stretch(s, run, 0, p), one, a.travel[before, here])
    if q > p + 1:
        front = join(front, stretch(s, run, p + 1, q - 1), a.travel[here, after])
        here = place_at(a, s, run, q - 1)
    front = join(front, depot, a.travel[here, a.setting[DEPOT]])
    way = a.travel[a.setting[DEPOT], place_at(a, s, run, q)]
    return join(front, stretch(s, run, q, end), way)[0]


@compiled
def add_up(a: Fixed, s: State, run: int, x: int, p: int, q: int) -> int:
    """The terms of a run just walked, into scratch; returns the time driven and on visits."""
    n = s.on[run, SIZE] + (1 if x >= 0 else 0)
    for k in range(TERMS):
        s.scratch[SUM, k] = 0
    here, driven, worked = a.run[run, ORIGIN], 0, 0
    for k in range(n):
        v = with_inserted(s, run, x, p, k)
        if k == q:
            driven += a.travel[here, a.setting[DEPOT]]
            here = a.setting[DEPOT]
        driven += a.travel[here, a.node[v, PLACE]]
        worked += a.node[v, LASTS]
        here = a.node[v, PLACE]
        judge(a, s, run, v, s.scratch[STARTS, k])
    driven += a.travel[here, a.run[run, ORIGIN]]
    s.scratch[SUM, EFFORT] = driven * a.run[run, RATE]
    for k in range(a.run[run, MEMBERS], a.run[run, MEMBERS_END]):
        over = max(s.scratch[STARTS, n] - a.member[k, SHIFT_END], 0)
        s.scratch[SUM, EFFORT] += over * a.person[a.member[k, WHO], COSTS]
    return int(driven + worked)


@compiled
def judge(a: Fixed, s: State, run: int, v: int, start: int) -> None:
    """What one stop adds to the terms. A visit of several crews counts at its first node; whether
    it moved is seen where all its runs are (`total.py`)."""
    if a.node[v, HEAD] != v:
        return
    if a.node[v, TOLD_DAY] >= 0:
        s.scratch[SUM, MOVED] += a.node[v, CREWS] == 1 and a.match[run, v] & MOVES > 0
        if a.node[v, TOLD_DAY] == a.run[run, DAY]:
            s.scratch[SUM, SHIFTED] += abs(start - a.node[v, TOLD_START])
    if a.node[v, PROMISED] < NEVER and not a.node[v, PROMISED] <= start <= a.node[v, PROMISED_END]:
        s.scratch[SUM, BROKEN] += 1
    late = max(finish(a, run, start, a.node[v, LASTS]) - a.node[v, DUE], 0)
    s.scratch[SUM, LATE] += a.node[v, WEIGHT] * late


@compiled
def settle_run(a: Fixed, s: State, run: int) -> tuple[bool, bool]:
    """Times, terms and depot of a run anew. Returns whether it can be driven as it stands, and
    whether a stop that others are linked with starts at another time than before."""
    n = s.on[run, SIZE]
    s.on[run, TOUCHED] = 1
    for k in range(TERMS):
        s.cost[run, k] = 0
    s.on[run, LOAD] = 0
    s.on[run, STOCK] = -1
    if a.setting[OBJECTIVE] == DURATION:
        measure(a, s, run)
    if n == 0:
        s.late[run, 0] = a.run[run, LAST]
        return True, False
    more, q = price(a, s, run, -1, 0, NO_PRICE)
    if more >= NO_PRICE:
        return False, False
    s.on[run, STOCK] = q
    if a.setting[OBJECTIVE] == DURATION:
        s.cost[run, EFFORT] = round(more / a.scale[EFFORT])
        return True, False
    walk(a, s, run, -1, 0, q)
    s.on[run, LOAD] = add_up(a, s, run, -1, 0, q)
    for k in range(TERMS):
        s.cost[run, k] = s.scratch[SUM, k]
    return True, note_times(a, s, run)


@compiled
def note_times(a: Fixed, s: State, run: int) -> bool:
    """Keeps the starts just walked; and for each stop (and the return) the moment of being there
    past which the rest cannot be. Breaks are not counted, so it may lie too late, never too early.
    Returns whether a linked stop starts at another time than before."""
    n, moved = s.on[run, SIZE], False
    t, there = a.run[run, LAST], a.run[run, ORIGIN]
    s.late[run, n] = t
    for k in range(n - 1, -1, -1):
        v = s.seq[run, k]
        moved = moved or (
            s.at[v, START] != s.scratch[STARTS, k] and a.node[v, LINKS] < a.node[v, LINKS_END]
        )
        s.at[v, START] = s.scratch[STARTS, k]
        t -= a.travel[a.node[v, PLACE], there] + a.node[v, LASTS]
        there = a.node[v, PLACE]
        s.late[run, k] = t
    return moved
