"""Why does a visit stand where it stands?"""

from __future__ import annotations

from collections.abc import Mapping

from jobs.planning.solve import sayings
from jobs.planning.solve.arrays import Model
from jobs.planning.solve.state import (
    FITS,
    HEAD,
    RUN,
    TOLD_DAY,
    State,
)
from jobs.planning.solve.ways import least_way


def reasons(model: Model, state: State) -> Mapping[str, str]:
    """For each planned visit the constraint or the cost that decided, in one sentence."""
    return {
        visit.key: reason(model, state, x)
        for x, visit in enumerate(model.visits)
        if state.at[x, RUN] >= 0 and model.fixed.node[x, HEAD] == x
    }


def reason(model: Model, state: State, x: int) -> str:
    """What leaves the least choice is said first: a pin, the only crew, a promise, the only day,
    what it follows, whom it goes with, what was published; else the way."""
    problem, visit, run = model.problem, model.visits[x], model.runs[int(state.at[x, RUN])]
    able = [other for i, other in enumerate(model.runs) if model.fixed.match[i, x] & FITS]
    day, who = sayings.day(problem, run.day.index), sayings.people(problem, run.team)
    if visit.pin:
        return f"It is pinned there: {day}, {who}."
    if visit.crews == 1 and len({other.crew for other in able}) == 1:
        return f"Only {who} may do it on a day that comes into question."
    if visit.promised:
        first, last = (sayings.hour(problem, t) for t in (visit.promised.start, visit.promised.end))
        return f"It is promised between {first} and {last}; {who} can keep that with least driving."
    if len({other.day.index for other in able}) == 1:
        return f"{day} is the only day on which it may start."
    if visit.after:
        return f"It follows {sayings.visit(problem, visit.after[0].visit)}."
    if visit.together:
        return f"The same people as for {sayings.visit(problem, visit.together)}: {who}."
    if model.fixed.node[x, TOLD_DAY] == run.day.index:
        return f"As published: {day}, {who}."
    return by_way(model, state, x)


def by_way(model: Model, state: State, x: int) -> str:
    """The driving it adds where it stands, and where it would add least elsewhere."""
    problem, mine = model.problem, int(state.at[x, RUN])
    added = least_way(model.fixed, state, mine, x)
    others = [
        (least_way(model.fixed, state, i, x), i)
        for i in range(len(model.runs))
        if i != mine and model.fixed.match[i, x] & FITS
    ]
    who = sayings.people(problem, model.runs[mine].team)
    if not others:
        return f"{who} can do it then, and nobody else on any day."
    least, other = min(others)
    where = sayings.people(problem, model.runs[other].team)
    where += f" on {sayings.day(problem, model.runs[other].day.index)}"
    if added <= least:
        return f"It adds {added} to the driving of {who}; the next nearest, {where}, {least}."
    return (
        f"It adds {added} to the driving of {who}; {where} would drive only {least} more for it "
        "but has no room, or what counts before driving would be worse."
    )
