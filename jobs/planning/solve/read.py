"""Which plan do the arrays of a search describe?"""

from __future__ import annotations

from itertools import pairwise

from jobs.planning.problem import Plan, Run, Stop
from jobs.planning.solve.arrays import Model
from jobs.planning.solve.state import (
    DEPOT,
    DURATION,
    OBJECTIVE,
    ORIGIN,
    PLACE,
    SIZE,
    START,
    STOCK,
    State,
)


def read(model: Model, state: State) -> Plan:
    """The plan of a state, days in order."""
    return Plan(
        runs=[
            Run(day=run.day.index, people=run.team, stops=stops(model, state, i))
            for i, run in enumerate(model.runs)
            if state.on[i, SIZE]
        ]
    )


def stops(model: Model, state: State, run: int) -> list[Stop]:
    line = [int(x) for x in state.seq[run, : state.on[run, SIZE]]]
    starts = best_starts if model.fixed.setting[OBJECTIVE] == DURATION else noted_starts
    return [
        Stop(visit=model.visits[x].key, start=start, stock_up=bool(k == state.on[run, STOCK]))
        for k, (x, start) in enumerate(zip(line, starts(model, state, run, line), strict=True))
    ]


def noted_starts(model: Model, state: State, run: int, line: list[int]) -> list[int]:
    return [int(state.at[x, START]) for x in line]


def best_starts(model: Model, state: State, run: int, line: list[int]) -> list[int]:
    """Leaving so late that no waiting remains that could be avoided: back as early as one can be,
    every stop as late as that allows (each has one window, and no day breaks)."""
    visits, ways = [model.visits[x] for x in line], drives(model, state, run, line)
    now, starts = model.runs[run].begin, []
    for visit, way in zip(visits, ways, strict=True):
        opens = [window.start for window in visit.windows]
        now = max(now + way, visit.earliest, visit.held_until, *opens)
        starts.append(now)
        now += visit.duration
    for k in range(len(line) - 2, -1, -1):
        closes = [window.end for window in visits[k].windows]
        starts[k] = min(starts[k + 1] - ways[k + 1] - visits[k].duration, *closes)
    return starts


def drives(model: Model, state: State, run: int, line: list[int]) -> list[int]:
    """The way to each stop, by the depot where the run goes there."""
    travel, depot = model.fixed.travel, model.fixed.setting[DEPOT]
    places = [model.fixed.run[run, ORIGIN], *(model.fixed.node[x, PLACE] for x in line)]
    ways = [int(travel[a, b]) for a, b in pairwise(places)]
    at = int(state.on[run, STOCK])
    if at >= 0:
        ways[at] = int(travel[places[at], depot] + travel[depot, places[at + 1]])
    return ways
