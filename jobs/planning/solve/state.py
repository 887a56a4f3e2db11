"""What does the search look at, and what does it move?

All times are the problem's whole units on one axis over all days. A *run* here is a crew's day
that may be driven, whether or not anything stands on it; a *node* is one crew's share of a visit
(a visit of two crews has two nodes, side by side, the first being its head). Few wide arrays with
named columns, not many narrow ones: handing an array to a compiled function costs time.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Whole = NDArray[np.int64]
Real = NDArray[np.float64]

NEVER = 1 << 60
# The places of the terms, in the order in which they count: first what no plan may have (a visit
# left out that must not be, more left out than may be), then those of `jobs.planning.terms`.
# Where duration is the objective it stands in the place of effort, alone.
TERMS = 8
MUST, BROKEN, UNDONE, LATE, MOVED, SHIFTED, EFFORT, UNFAIR = range(TERMS)
# Objectives.
FIRM, DURATION = 0, 1
# Kinds of link from one node to another.
AFTER, BEFORE, TOGETHER = 0, 1, 2
# How a node is held, as bits: to the promised window, to no earlier than published.
TO_PROMISE, TO_PUBLISHED = 1, 2
# Run and node, as bits: may it stand there, also without the depot, would it have moved.
FITS, TOOLED, MOVES = 1, 2, 4

# Columns of Fixed.node. RANK: the place in the order of what counts most; FAR: the way to other
# visits on average; HARD: on how many runs it may stand; TOLD: as published (-1: it was not).
PLACE, LASTS, RELEASE, DUE, WEIGHT, REQUIRED, OUT_COST, CREWS, HEAD, PROMISED, PROMISED_END = range(
    11
)
WINDOWS, WINDOWS_END, LINKS, LINKS_END, TOLD_DAY, TOLD_START = range(11, 17)
RANK, HARD, FAR, OPEN_FOR, CLOSES = range(17, 22)
# Columns of Fixed.run. RATE: what a unit of driving costs.
BEGIN, LAST, ORIGIN, DAY, TEAM, CREW, RATE, MEMBERS, MEMBERS_END, BREAKS, BREAKS_END = range(11)
OTHER, KIND, LEAST, MOST = range(4)  # of Fixed.link
WHO, SHIFT_END = range(2)  # of Fixed.member
COSTS, ALL_SHIFTS = range(2)  # of Fixed.person
OBJECTIVE, DEPOT, MAY_COST = range(3)  # of Fixed.setting

# Columns of State.at. RUN: -1: left out; EXACT: a start shared with other crews, -1: free.
NODE_STATE = 6
RUN, START, HOLD, EXACT, SPOT_RUN, SPOT_LINE = range(NODE_STATE)
# Columns of State.on. STOCK: the depot lies before this stop, -1: not visited; LOAD: time driving
# and on visits; TOUCHED: since the plan was last kept.
SIZE, STOCK, LOAD, TOUCHED = range(4)
# Rows of State.scratch.
STARTS, SUM, BUSY, QUEUE, TAKEN, SEEN, WAITING, KEY = range(8)


class Fixed(NamedTuple):
    """A problem as arrays; nothing here changes during a search."""

    node: Whole
    run: Whole
    match: NDArray[np.int8]  # [run, node] bits
    span: Whole  # [_, 2] windows and breaks
    link: Whole
    member: Whole  # people of runs
    person: Whole
    parts: Whole  # [node, part] needed
    carry: Whole  # [run, part] in the van
    near: Whole  # [node, _] itself, then other nodes, the nearest first
    travel: Whole  # [place, place]
    scale: Real  # [term] no sum of the later ones reaches one unit's
    warmth: Real  # [term] how much worse it may become while the search is hot
    setting: Whole


class State(NamedTuple):
    """A plan while it is being searched, and scratch space."""

    at: Whole  # of each node
    on: Whole  # of each run
    seq: Whole  # [run, place in line] nodes
    late: Whole  # [run, place in line] being there later is too late for the rest
    cost: Whole  # [run, term]
    total: Whole  # [term]
    segment: Whole  # [run, from, to, 3]: see timing.join
    scratch: Whole
    rng: NDArray[np.uint64]


def empty(fixed: Fixed, longest: int, rng: NDArray[np.uint64]) -> State:
    """The plan in which nothing is done; `longest`: how many stops a run may have."""
    runs, nodes = fixed.match.shape
    wide = longest + 2 if fixed.setting[OBJECTIVE] == DURATION else 1
    widest = max(longest + 2, TERMS, len(fixed.person), 4 * runs + 8, nodes)
    at = np.full((nodes, NODE_STATE), -1, np.int64)
    at[:, HOLD] = 0
    on = np.zeros((runs, 4), np.int64)
    on[:, STOCK] = -1
    return State(
        at=at,
        on=on,
        seq=np.zeros((runs, longest), np.int64),
        late=np.zeros((runs, longest + 1), np.int64),
        cost=np.zeros((runs, TERMS), np.int64),
        total=np.zeros(TERMS, np.int64),
        segment=np.zeros((runs, wide, wide, 3), np.int64),
        scratch=np.zeros((8, widest), np.int64),
        rng=rng,
    )
