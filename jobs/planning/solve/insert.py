"""Where does a left-out visit cost least, and in which order are they put back?"""

from __future__ import annotations

from jobs.planning.solve.allowed import has_followers, may_stand, waits_for_another
from jobs.planning.solve.chance import below, draw
from jobs.planning.solve.change import put, take_visit
from jobs.planning.solve.compiled import compiled
from jobs.planning.solve.price import price
from jobs.planning.solve.state import (
    BROKEN,
    CLOSES,
    CREWS,
    DURATION,
    FAR,
    HARD,
    HEAD,
    HOLD,
    KEY,
    MOVED,
    MUST,
    NEVER,
    OBJECTIVE,
    OPEN_FOR,
    OUT_COST,
    PROMISED,
    RANK,
    REQUIRED,
    RUN,
    SIZE,
    TO_PROMISE,
    TO_PUBLISHED,
    TOLD_DAY,
    UNDONE,
    WAITING,
    WEIGHT,
    Fixed,
    State,
)
from jobs.planning.solve.together import put_crews

ORDERS, BY_WORTH = 14, 13
PASSES = 8  # so long a chain of visits after one another is put back in one round
BLINK = 0.01  # places passed over now and then, as Christiaens and Vanden Berghe 2020 do


@compiled
def worth(a: Fixed, x: int) -> float:
    """What is saved by not leaving a visit out: dearer places than that are not taken."""
    saved = a.scale[MUST] * (a.node[x, REQUIRED] + a.node[x, OUT_COST])
    if a.setting[OBJECTIVE] != DURATION:
        saved += (
            a.scale[BROKEN] * (a.node[x, PROMISED] < NEVER) + a.scale[UNDONE] * a.node[x, WEIGHT]
        )
        saved += a.scale[MOVED] * (a.node[x, TOLD_DAY] >= 0)
    return float(saved)


@compiled
def cheapest(a: Fixed, s: State, x: int, limit: float, blink: float) -> tuple[float, int, int]:
    """The cheapest place for a node below `limit`: its price, run (-1: none) and line."""
    best, where, at = limit, -1, -1
    for run in range(len(s.on)):
        if not may_stand(a, s, x, run):
            continue
        for p in range(s.on[run, SIZE] + 1):
            if blink > 0 and draw(s.rng) < blink:
                continue
            one = price(a, s, run, x, p, best)[0]
            if one < best:
                best, where, at = one, run, p
    return best, where, at


@compiled
def put_back(a: Fixed, s: State, x: int, blink: float) -> bool:
    """A visit to where it costs least; False when it stays out. A promise is only broken, and a
    published start only advanced, where nothing else is possible, or now and then by chance."""
    if waits_for_another(a, s, x):
        return False
    if a.node[x, CREWS] > 1:
        take_visit(a, s, x)  # what is left of it where a run was emptied
    held = a.node[x, PROMISED] < NEVER or a.node[x, TOLD_DAY] >= 0
    hold = TO_PROMISE | TO_PUBLISHED
    if held and blink > 0 and draw(s.rng) < 0.03:
        hold = below(s.rng, 4)
    while True:
        if a.node[x, CREWS] > 1:
            if put_crews(a, s, x, hold, worth(a, x)):
                return True
        else:
            s.at[x, HOLD] = hold
            _, run, p = cheapest(a, s, x, worth(a, x), blink)
            if run >= 0:
                put(a, s, x, run, p)
                return True
        if not held or hold == 0:
            return False
        hold = TO_PROMISE if hold > TO_PROMISE else 0


@compiled
def key(a: Fixed, s: State, x: int, how: int) -> int:
    """By what a visit stands in one of the fourteen orders; ties and four of them by chance."""
    base = 0
    if how == BY_WORTH:
        base = a.node[x, RANK]
    elif how >= 11:
        base = a.node[x, CLOSES]
    elif how == 10:
        base = a.node[x, OPEN_FOR]
    elif how == 9:
        base = a.node[x, FAR]
    elif how >= 7:
        base = -a.node[x, FAR]
    elif how >= 4:
        base = a.node[x, HARD]
    return int(base * 1024 + below(s.rng, 1024))


@compiled
def line_up(a: Fixed, s: State, how: int) -> int:
    """All visits left out into scratch in an order; returns how many."""
    n = 0
    for x in range(len(s.at)):
        if a.node[x, HEAD] == x and s.at[x, RUN] < 0:
            mine, k = key(a, s, x, how), n
            while k > 0 and s.scratch[KEY, k - 1] > mine:
                s.scratch[KEY, k] = s.scratch[KEY, k - 1]
                s.scratch[WAITING, k] = s.scratch[WAITING, k - 1]
                k -= 1
            s.scratch[KEY, k], s.scratch[WAITING, k] = mine, x
            n += 1
    return n


@compiled
def recreate(a: Fixed, s: State, blink: float, how: int) -> None:
    """All visits left out, where they cost least, in an order (`how` < 0: one by chance). What
    waits for another is tried again when that has been put back."""
    n = line_up(a, s, below(s.rng, ORDERS) if how < 0 else how)
    for _ in range(PASSES):
        again = False
        for i in range(n):
            x = s.scratch[WAITING, i]
            if s.at[x, RUN] < 0 and put_back(a, s, x, blink):
                again = again or has_followers(a, s, x)
        if not again:
            break
    drop_orphans(a, s)


@compiled
def drop_orphans(a: Fixed, s: State) -> None:
    """Visits off whose predecessor is left out, or which have not all their crews any more."""
    again = True
    while again:
        again = False
        for x in range(len(s.at)):
            if s.at[x, RUN] >= 0 and a.node[x, CREWS] > 1:
                head = a.node[x, HEAD]
                for y in range(head, head + a.node[head, CREWS]):
                    if s.at[y, RUN] < 0 and s.at[x, RUN] >= 0:
                        take_visit(a, s, x)
                        again = True
            if s.at[x, RUN] >= 0 and waits_for_another(a, s, x):
                take_visit(a, s, x)
                again = True
