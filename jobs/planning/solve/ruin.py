"""Which visits are taken off a plan together, to be put back better?"""

from __future__ import annotations

from jobs.planning.solve.chance import below, draw
from jobs.planning.solve.change import settle, take, take_visit
from jobs.planning.solve.compiled import compiled
from jobs.planning.solve.state import (
    CREW,
    CREWS,
    DAY,
    LINKS,
    LINKS_END,
    OTHER,
    RUN,
    SEEN,
    SIZE,
    TAKEN,
    Fixed,
    State,
)

# Christiaens and Vanden Berghe 2020, values from memory: on average so many visits are taken, from
# strings of at most so many; half of the strings are split, keeping some stops in their middle.
ON_AVERAGE = 10
STRING = 10.0
SPLIT = 0.5
KEEP_ONE_MORE = 0.49
ANYWHERE, SAME_DAY, SAME_TEAM = range(3)


@compiled
def ruin(a: Fixed, s: State) -> None:
    """Takes strings of stops off runs that pass near a visit picked by chance: any runs, those of
    its day, or those of its crew; sometimes with all that comes before and after it."""
    x = below(s.rng, len(s.at))
    how = kind(a, s, x)
    longest = max(1.0, min(STRING, average(s)))
    runs = int(1 + draw(s.rng) * (4 * ON_AVERAGE / (1 + longest) - 1))
    home = s.at[x, RUN]
    for run in range(len(s.on)):
        s.scratch[SEEN, run] = 0
    for k in range(a.near.shape[1]):
        if runs <= 0:
            break
        run = s.at[a.near[x, k], RUN]
        if run < 0 or s.scratch[SEEN, run] or not related(a, how, home, run):
            continue
        s.scratch[SEEN, run] = 1
        runs -= 1
        take_string(a, s, run, a.near[x, k], min(longest, float(s.on[run, SIZE])))
    if a.node[x, LINKS] < a.node[x, LINKS_END] and draw(s.rng) < 0.5:
        for k in range(a.node[x, LINKS], a.node[x, LINKS_END]):
            take_visit(a, s, a.link[k, OTHER])


@compiled
def kind(a: Fixed, s: State, x: int) -> int:
    """How the runs of one ruin are related."""
    if s.at[x, RUN] < 0 or a.run[0, DAY] == a.run[-1, DAY]:
        return ANYWHERE
    chance = draw(s.rng)
    return SAME_DAY if chance < 0.35 else SAME_TEAM if chance < 0.5 else ANYWHERE


@compiled
def related(a: Fixed, how: int, home: int, run: int) -> bool:
    if how == SAME_DAY:
        return bool(a.run[home, DAY] == a.run[run, DAY])
    return how == ANYWHERE or bool(a.run[home, CREW] == a.run[run, CREW])


@compiled
def average(s: State) -> float:
    """How many stops a run has, of those that have any."""
    stops, used = 0, 0
    for run in range(len(s.on)):
        stops += s.on[run, SIZE]
        used += s.on[run, SIZE] > 0
    return stops / max(used, 1)


@compiled
def take_string(a: Fixed, s: State, run: int, x: int, longest: float) -> None:
    """A string of stops that has `x` in it off a run, or one with a kept piece in its middle."""
    n, at = s.on[run, SIZE], 0
    while s.seq[run, at] != x:
        at += 1
    length = min(int(1 + draw(s.rng) * longest), n)
    kept = 0
    if 1 < length < n and draw(s.rng) < SPLIT:
        kept = 1
        while length + kept < n and draw(s.rng) < KEEP_ONE_MORE:
            kept += 1
    whole = length + kept
    low, high = max(0, at - whole + 1), min(at, n - whole)
    first = low + below(s.rng, high - low + 1)
    gap = first + below(s.rng, length + 1) if kept else first + whole
    take_between(a, s, run, first, first + whole, gap, kept)


@compiled
def take_between(a: Fixed, s: State, run: int, first: int, past: int, gap: int, kept: int) -> None:
    """Stops `first` until `past` off a run but for `kept` of them from `gap` on. A visit of
    several crews goes off all its runs."""
    n = 0
    for k in range(first, past):
        if not gap <= k < gap + kept:
            s.scratch[TAKEN, n] = s.seq[run, k]
            n += 1
    for k in range(n):
        x = s.scratch[TAKEN, k]
        if a.node[x, CREWS] > 1:
            take_visit(a, s, x)
        elif s.at[x, RUN] >= 0:
            take(a, s, x)
    settle(a, s, run)
