"""When does each stop of a run start, and how long does the run last?"""

from __future__ import annotations

from jobs.planning.solve.compiled import compiled
from jobs.planning.solve.state import (
    AFTER,
    BEFORE,
    BEGIN,
    BREAKS,
    BREAKS_END,
    DAY,
    DEPOT,
    EXACT,
    HOLD,
    KIND,
    LAST,
    LASTS,
    LEAST,
    LINKS,
    LINKS_END,
    MOST,
    NEVER,
    ORIGIN,
    OTHER,
    PLACE,
    PROMISED,
    PROMISED_END,
    RELEASE,
    RUN,
    SIZE,
    START,
    STARTS,
    TO_PROMISE,
    TO_PUBLISHED,
    TOLD_DAY,
    TOLD_START,
    WINDOWS,
    WINDOWS_END,
    Fixed,
    State,
)


@compiled
def bounds(a: Fixed, s: State, x: int, run: int) -> tuple[int, int]:
    """Earliest and latest start of node `x` on `run`, given where its partners stand now."""
    low, high = a.node[x, RELEASE], NEVER
    if s.at[x, EXACT] >= 0:
        low, high = max(low, s.at[x, EXACT]), s.at[x, EXACT]
    if s.at[x, HOLD] & TO_PROMISE and a.node[x, PROMISED] < NEVER:
        low, high = max(low, a.node[x, PROMISED]), min(high, a.node[x, PROMISED_END])
    if s.at[x, HOLD] & TO_PUBLISHED and a.node[x, TOLD_DAY] == a.run[run, DAY]:
        low = max(low, a.node[x, TOLD_START])
    for k in range(a.node[x, LINKS], a.node[x, LINKS_END]):
        y = a.link[k, OTHER]
        if s.at[y, RUN] < 0:
            continue
        if a.link[k, KIND] == AFTER:
            end = finish(a, s.at[y, RUN], s.at[y, START], a.node[y, LASTS])
            low, high = max(low, end + a.link[k, LEAST]), min(high, end + a.link[k, MOST])
        elif a.link[k, KIND] == BEFORE:
            # With breaks it may end later than start and duration; `leaves_time` looks again.
            high = min(high, s.at[y, START] - a.link[k, LEAST] - a.node[x, LASTS])
            low = max(low, s.at[y, START] - a.link[k, MOST] - a.node[x, LASTS])
    return low, high


@compiled
def resumes(a: Fixed, run: int, t: int) -> int:
    """The earliest moment from `t` on that is in no break."""
    for k in range(a.run[run, BREAKS], a.run[run, BREAKS_END]):
        if a.span[k, 0] <= t < a.span[k, 1]:
            t = a.span[k, 1]
    return t


@compiled
def drives(a: Fixed, run: int, t: int, here: int, there: int) -> int:
    """When a crew that may leave at `t` is there."""
    way = a.travel[here, there]
    return finish(a, run, resumes(a, run, t), way) if way else t


@compiled
def finish(a: Fixed, run: int, start: int, duration: int) -> int:
    """When work that starts then is done: breaks it straddles are added."""
    end = start + duration
    for k in range(a.run[run, BREAKS], a.run[run, BREAKS_END]):
        if start <= a.span[k, 0] < end:
            end += a.span[k, 1] - a.span[k, 0]
    return end


@compiled
def opens(a: Fixed, x: int, run: int, t: int) -> int:
    """The earliest moment from `t` on at which `x` may start on `run`: in a window, in no break."""
    moved = True
    while moved:
        moved = False
        first, past = a.node[x, WINDOWS], a.node[x, WINDOWS_END]
        for k in range(first, past):
            if t <= a.span[k, 1]:
                t = max(t, a.span[k, 0])
                break
            if k == past - 1:
                return NEVER
        free = resumes(a, run, t)
        moved, t = free > t, free
    return t


@compiled
def earliest(a: Fixed, s: State, x: int, run: int, t: int) -> int:
    """When `x` starts on `run` if the crew is there at `t`; NEVER if it cannot."""
    low, high = bounds(a, s, x, run)
    t = opens(a, x, run, max(t, low))
    return t if t <= high and leaves_time(a, s, x, run, t) else NEVER


@compiled
def leaves_time(a: Fixed, s: State, x: int, run: int, start: int) -> bool:
    """Whether `x` started then, breaks and all, ends in time for what comes after it."""
    for k in range(a.node[x, LINKS], a.node[x, LINKS_END]):
        y = a.link[k, OTHER]
        if a.link[k, KIND] == BEFORE and s.at[y, RUN] >= 0:
            end = finish(a, run, start, a.node[x, LASTS])
            if end + a.link[k, LEAST] > s.at[y, START]:
                return False
    return True


@compiled
def join(front: tuple[int, int, int], back: tuple[int, int, int], way: int) -> tuple[int, int, int]:
    """Two stretches of a run one after the other, `way` apart.

    A stretch is (duration, earliest start, latest start): started between the two it takes that
    long, started before the earliest it waits. A duration of NEVER: it cannot be driven. (Vidal
    and others 2013, segments with time windows, without their time warp.)
    """
    if front[0] >= NEVER or back[0] >= NEVER:
        return NEVER, 0, 0
    delta = front[0] + way
    if front[1] + delta > back[2]:
        return NEVER, 0, 0
    wait = max(back[1] - delta - front[2], 0)
    return (
        delta + back[0] + wait,
        max(back[1] - delta, front[1]) - wait,
        min(back[2] - delta, front[2]),
    )


@compiled
def alone(a: Fixed, x: int) -> tuple[int, int, int]:
    """The stretch of one stop."""
    low, high, k = a.node[x, RELEASE], NEVER, a.node[x, WINDOWS]
    if a.node[x, WINDOWS_END] > k:
        low, high = max(low, a.span[k, 0]), a.span[k, 1]
    return a.node[x, LASTS], low, high


@compiled
def stretch(s: State, run: int, i: int, j: int) -> tuple[int, int, int]:
    """Of a run as it stands, from its i-th through its j-th point (0: home, 1: the first stop)."""
    return s.segment[run, i, j, 0], s.segment[run, i, j, 1], s.segment[run, i, j, 2]


@compiled
def place_at(a: Fixed, s: State, run: int, i: int) -> int:
    """Where the i-th point of a run lies (0 and one past the last stop: home)."""
    if i == 0 or i == s.on[run, SIZE] + 1:
        return int(a.run[run, ORIGIN])
    return int(a.node[s.seq[run, i - 1], PLACE])


@compiled
def measure(a: Fixed, s: State, run: int) -> None:
    """All stretches of a run anew."""
    past = s.on[run, SIZE] + 2
    for i in range(past):
        one = (0, a.run[run, BEGIN], a.run[run, LAST])
        if 0 < i < past - 1:
            one = alone(a, s.seq[run, i - 1])
        s.segment[run, i, i, 0], s.segment[run, i, i, 1], s.segment[run, i, i, 2] = one
    for i in range(past - 1):
        here = stretch(s, run, i, i)
        for j in range(i + 1, past):
            way = a.travel[place_at(a, s, run, j - 1), place_at(a, s, run, j)]
            here = join(here, stretch(s, run, j, j), way)
            s.segment[run, i, j, 0], s.segment[run, i, j, 1], s.segment[run, i, j, 2] = here


@compiled
def walk(a: Fixed, s: State, run: int, x: int, p: int, q: int) -> bool:
    """Whether a run can be driven with `x` as its p-th stop (x < 0: as it is) and the depot just
    before stop `q` (q < 0: no depot), every stop as early as can be. The starts are left
    in scratch, the return after the last."""
    n = s.on[run, SIZE] + (1 if x >= 0 else 0)
    t, here = a.run[run, BEGIN], a.run[run, ORIGIN]
    for k in range(n):
        v = with_inserted(s, run, x, p, k)
        if k == q:
            t = drives(a, run, t, here, a.setting[DEPOT])
            here = a.setting[DEPOT]
        t = earliest(a, s, v, run, drives(a, run, t, here, a.node[v, PLACE]))
        if t >= NEVER:
            return False
        s.scratch[STARTS, k] = t
        t = finish(a, run, t, a.node[v, LASTS])
        here = a.node[v, PLACE]
    back = drives(a, run, t, here, a.run[run, ORIGIN])
    s.scratch[STARTS, n] = back
    return bool(back <= a.run[run, LAST])


@compiled
def with_inserted(s: State, run: int, x: int, p: int, k: int) -> int:
    """The k-th stop of a run with `x` inserted at `p` (x < 0: as it is)."""
    if x < 0 or k < p:
        return int(s.seq[run, k])
    return x if k == p else int(s.seq[run, k - 1])
