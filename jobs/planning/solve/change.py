"""How is a node put on a run or taken off, and what else moves with it?"""

from __future__ import annotations

from jobs.planning.solve.compiled import compiled
from jobs.planning.solve.price import settle_run
from jobs.planning.solve.state import (
    CREWS,
    EXACT,
    HEAD,
    HOLD,
    LINKS,
    LINKS_END,
    OTHER,
    QUEUE,
    RUN,
    SIZE,
    START,
    TOUCHED,
    Fixed,
    State,
)


@compiled
def put(a: Fixed, s: State, x: int, run: int, p: int) -> None:
    """Node `x` onto a run as its p-th stop."""
    p = min(p, s.on[run, SIZE])  # a linked run may have been emptied since the place was found
    for k in range(s.on[run, SIZE], p, -1):
        s.seq[run, k] = s.seq[run, k - 1]
    s.seq[run, p] = x
    s.on[run, SIZE] += 1
    s.at[x, RUN] = run
    settle(a, s, run)


@compiled
def take(a: Fixed, s: State, x: int) -> int:
    """A node off its run, which then has to be settled; returns that run."""
    run = s.at[x, RUN]
    at = 0
    for k in range(s.on[run, SIZE]):
        if s.seq[run, k] != x:
            s.seq[run, at] = s.seq[run, k]
            at += 1
    s.on[run, SIZE] = at
    leave(s, x)
    s.on[run, TOUCHED] = 1
    return int(run)


@compiled
def leave(s: State, x: int) -> None:
    """Node `x` stands nowhere."""
    s.at[x, RUN], s.at[x, START], s.at[x, HOLD], s.at[x, EXACT] = -1, -1, 0, -1


@compiled
def take_visit(a: Fixed, s: State, x: int) -> None:
    """All nodes of the visit off their runs, these settled."""
    head = a.node[x, HEAD]
    for y in range(head, head + a.node[head, CREWS]):
        if s.at[y, RUN] >= 0:
            settle(a, s, take(a, s, y))


@compiled
def settle(a: Fixed, s: State, run: int) -> None:
    """Times and terms of a run anew, then of the runs its stops are linked with, until nothing
    moves. A run that cannot be driven any more (a way that is longer without a stop than with it)
    is emptied."""
    queued, done = 1, 0
    s.scratch[QUEUE, 0] = run
    while done < queued:
        now = s.scratch[QUEUE, done]
        done += 1
        drivable, moved = settle_run(a, s, now)
        if not drivable:
            clear(a, s, now)
        elif moved:
            queued = queue_linked(a, s, now, done, queued)


@compiled
def queue_linked(a: Fixed, s: State, run: int, done: int, queued: int) -> int:
    """Runs linked with this one into the queue, as far as they do not wait there and it has room
    (what is not settled again stays possible: it starts no earlier than it must)."""
    for i in range(s.on[run, SIZE]):
        x = s.seq[run, i]
        for k in range(a.node[x, LINKS], a.node[x, LINKS_END]):
            other = s.at[a.link[k, OTHER], RUN]
            waits = other < 0 or other == run or queued == s.scratch.shape[1]
            for j in range(done, queued):
                waits = waits or s.scratch[QUEUE, j] == other
            if not waits:
                s.scratch[QUEUE, queued] = other
                queued += 1
    return queued


@compiled
def clear(a: Fixed, s: State, run: int) -> None:
    """All stops off a run."""
    for i in range(s.on[run, SIZE]):
        leave(s, s.seq[run, i])
    s.on[run, SIZE] = 0
    settle_run(a, s, run)
