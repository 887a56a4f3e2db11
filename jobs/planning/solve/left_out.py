"""What is the nearest thing that would have let a left-out visit in?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np

from jobs.planning.problem import Problem, Visit
from jobs.planning.solve import sayings
from jobs.planning.solve.arrays import Model, bits
from jobs.planning.solve.search import admits, copy
from jobs.planning.solve.state import (
    HEAD,
    LAST,
    RELEASE,
    RUN,
    START,
    WINDOWS,
    WINDOWS_END,
    Fixed,
    State,
)

EXPLAINED = 60  # more than that nobody reads
LONGER = 2  # hours of overtime tried


def left_out(model: Model, plan: State, spare: State) -> Mapping[str, str]:
    """For each visit left out a sentence, found by giving up one rule at a time and putting the
    visit into the plan as it is; `spare` is overwritten."""
    out = [
        x
        for x in range(len(model.visits))
        if plan.at[x, RUN] < 0 and model.fixed.node[x, HEAD] == x
    ]
    return {
        model.visits[x].key: nearest(model, plan, spare, x)
        if k < EXPLAINED
        else "It was left out; so many were that no reason was looked for."
        for k, x in enumerate(out)
    }


def nearest(model: Model, plan: State, spare: State, x: int) -> str:
    """The first rule in the order of `easier` without which it would have fitted."""
    problem, visit = model.problem, model.visits[x]
    if visit.held:
        return f"It is on hold: {visit.held}."
    out = {model.visits[y].key for y in range(len(model.visits)) if plan.at[y, RUN] < 0}
    for after in visit.after:
        if after.visit in out or after.visit not in {each.key for each in problem.visits}:
            return f"{sayings.visit(problem, after.visit)}, which comes before it, is not planned."
    for words, freed, longer in easier(problem, visit):
        if (where := room(model, plan, spare, x, freed, longer)) is not None:
            return f"{words}; {where} is the first place for it otherwise."
    return "No crew has room for it on any day, whichever single rule were given up."


def easier(problem: Problem, visit: Visit) -> Iterator[tuple[str, Visit, int]]:
    """The visit with one rule less, and by how much later runs may end: what is most easily
    talked about comes first."""
    yield "There was room, but leaving it out served more", visit, 0
    if visit.windows:
        yield "No crew is free in its windows", replace(visit, windows=()), 0
    if visit.pin:
        yield "Those it is pinned to are not free then", replace(visit, pin=None), 0
    if visit.needs_tools:
        tools = " and ".join(sorted(visit.needs_tools))
        yield f"No crew with {tools} is free", replace(visit, needs_tools=frozenset()), 0
    for need in visit.needs:
        rest = [other for other in visit.needs if other is not need]
        words = f"No crew with {need.count} of level {need.level} in {need.domain} is free"
        yield words, replace(visit, needs=rest), 0
    if visit.heads > 1:
        yield f"No crew of {visit.heads} is free", replace(visit, heads=1), 0
    if visit.held_until or visit.earliest:
        free = replace(visit, held_until=0, earliest=0)
        yield "No crew is free once it may start", free, 0
    if problem.per_hour is not None:
        yield f"Nobody has {LONGER} more hours of overtime", visit, LONGER * problem.per_hour


def room(model: Model, plan: State, spare: State, x: int, freed: Visit, longer: int) -> str | None:
    """Where and when it would stand with that rule given up, in words; None: nowhere."""
    fixed = loosened(model, x, freed, longer)
    copy(fixed, plan, spare, True)
    if not admits(fixed, spare, x):
        return None
    run = model.runs[int(spare.at[x, RUN])]
    day, hour = sayings.day(model.problem, run.day.index), int(spare.at[x, START])
    who = sayings.people(model.problem, run.team)
    return f"{day} {sayings.hour(model.problem, hour)} with {who}"


def loosened(model: Model, x: int, freed: Visit, longer: int) -> Fixed:
    """The arrays with one visit's rules as freed, and every run's end so much later."""
    fixed = model.fixed
    node, run, match = fixed.node.copy(), fixed.run.copy(), fixed.match.copy()
    run[:, LAST] += longer
    if not freed.windows:
        node[x, WINDOWS_END] = node[x, WINDOWS]
    node[x, RELEASE] = max(freed.earliest, freed.held_until, 0)
    for y in range(x, x + freed.crews):
        match[:, y] = [bits(model.problem, crew_day, freed, longer) for crew_day in model.runs]
    return fixed._replace(node=node, run=run, match=np.ascontiguousarray(match))
