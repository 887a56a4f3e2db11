"""What are the terms of a whole plan, and may a search go on from it?"""

from __future__ import annotations

import math

from jobs.planning.solve.chance import draw
from jobs.planning.solve.compiled import compiled
from jobs.planning.solve.state import (
    ALL_SHIFTS,
    BROKEN,
    BUSY,
    CREWS,
    DURATION,
    HEAD,
    LOAD,
    MAY_COST,
    MEMBERS,
    MEMBERS_END,
    MOVED,
    MOVES,
    MUST,
    NEVER,
    OBJECTIVE,
    OUT_COST,
    PROMISED,
    REQUIRED,
    RUN,
    SIZE,
    TERMS,
    TOLD_DAY,
    UNDONE,
    UNFAIR,
    WEIGHT,
    WHO,
    Fixed,
    State,
    Whole,
)


@compiled
def add_up_plan(a: Fixed, s: State) -> None:
    """The terms of the plan into `s.total`."""
    for k in range(TERMS):
        s.total[k] = 0
    for run in range(len(s.on)):
        if s.on[run, SIZE]:
            for k in range(TERMS):
                s.total[k] += s.cost[run, k]
    spent = 0
    for x in range(len(s.at)):
        if a.node[x, HEAD] == x:
            if s.at[x, RUN] < 0:
                spent += a.node[x, OUT_COST]
                count_out(a, s, x)
            elif a.node[x, CREWS] > 1 and a.node[x, TOLD_DAY] >= 0:
                s.total[MOVED] += any_moved(a, s, x)
    s.total[MUST] += max(spent - a.setting[MAY_COST], 0)
    if a.setting[OBJECTIVE] != DURATION:
        s.total[UNFAIR] = unfairness(a, s)


@compiled
def count_out(a: Fixed, s: State, x: int) -> None:
    """What a visit left out adds."""
    s.total[MUST] += a.node[x, REQUIRED]
    if a.setting[OBJECTIVE] != DURATION:
        s.total[BROKEN] += a.node[x, PROMISED] < NEVER
        s.total[UNDONE] += a.node[x, WEIGHT]
        s.total[MOVED] += a.node[x, TOLD_DAY] >= 0


@compiled
def any_moved(a: Fixed, s: State, x: int) -> bool:
    """Whether a visit of several crews is on another day or has someone new."""
    found = False
    for y in range(x, x + a.node[x, CREWS]):
        found = found or a.match[s.at[y, RUN], y] & MOVES > 0
    return found


@compiled
def unfairness(a: Fixed, s: State) -> int:
    """Between the fullest and the emptiest person, in thousandths of their shifts."""
    for i in range(len(a.person)):
        s.scratch[BUSY, i] = 0
    for run in range(len(s.on)):
        if s.on[run, SIZE]:
            for k in range(a.run[run, MEMBERS], a.run[run, MEMBERS_END]):
                s.scratch[BUSY, a.member[k, WHO]] += s.on[run, LOAD]
    most, least = 0, NEVER
    for i in range(len(a.person)):
        if a.person[i, ALL_SHIFTS]:
            full = 1000 * s.scratch[BUSY, i] // a.person[i, ALL_SHIFTS]
            most, least = max(most, full), min(least, full)
    return int(max(most - least, 0))


@compiled
def better(new: Whole, old: Whole) -> bool:
    """By the first term that differs."""
    for k in range(TERMS):
        if new[k] != old[k]:
            return bool(new[k] < old[k])
    return False


@compiled
def accepts(a: Fixed, s: State, old: Whole, heat: float) -> bool:
    """Annealing in the order of the terms: the first that differs decides; growing by d passes
    with chance exp(-d / (heat x its warmth)), so as heat goes to nothing the order is strict."""
    for k in range(TERMS):
        d = s.total[k] - old[k]
        if d < 0:
            return True
        if d > 0:
            warm = heat * a.warmth[k]
            return bool(warm > 0 and d < -warm * math.log(1.0 - draw(s.rng)))
    return True
