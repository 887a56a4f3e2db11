"""How far out of a run's way does a visit lie?"""

from __future__ import annotations

from itertools import pairwise

from jobs.planning.solve.state import (
    ORIGIN,
    PLACE,
    SIZE,
    Fixed,
    State,
)


def least_way(fixed: Fixed, state: State, run: int, x: int) -> int:
    """The least driving a node adds to a run between any two of its other stops."""
    stops = [y for y in state.seq[run, : state.on[run, SIZE]] if y != x]
    places = [fixed.run[run, ORIGIN], *(fixed.node[y, PLACE] for y in stops)]
    here, travel = fixed.node[x, PLACE], fixed.travel
    return min(
        int(travel[a, here] + travel[here, b] - travel[a, b])
        for a, b in pairwise([*places, places[0]])
    )
