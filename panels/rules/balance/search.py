"""Which arrangement is the best, and is that proven?

First the legs alone (`ladder`): that bounds what any arrangement can do, and names choices that
reach it. If one of them finds its places by as few moves, it is the answer and proven. If not,
the solver is asked for the whole panel.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from panels.rules.balance.bodies import Body
from panels.rules.balance.fitting import Fitting, GaveUp
from panels.rules.balance.items import Items, Stand
from panels.rules.balance.ladder import Ladder
from panels.rules.balance.placement import Limits, Placed, Undecided, place
from panels.rules.balance.splits import Way
from panels.rules.balance.spots import Spot
from panels.rules.errors import NotCovered
from panels.rules.layout import Frame

EFFORT = 0.6  # of the solver, for each of the questions it is asked; its own measure of time
TRIES = 8  # ways for which further bodies may make room
RUNGS_MORE = 4


@dataclass(frozen=True, kw_only=True)
class Task:
    """A panel as the search sees it."""

    frame: Frame
    bodies: tuple[Body, ...]
    groups: frozenset[str]
    most_moves: int | None

    def place(
        self, limits: Limits, *, by_moves: bool = True, hint: Placed | None = None,
        fixed: Mapping[int, Stand] | None = None,
    ) -> Placed | None:  # fmt: skip
        if self.most_moves is not None and limits.most_moves is None:
            limits = replace(limits, most_moves=self.most_moves)
        return place(
            self.frame, self.bodies, self.groups, limits=limits, by_moves=by_moves, hint=hint,
            fixed=fixed, effort=EFFORT,
        )  # fmt: skip


def search(task: Task, items: Items, ladder: Ladder) -> tuple[Placed, int, int]:
    """The arrangement found, the least imbalance there can be, and the fewest moves for it."""
    best, fewest = _by_legs(task, items, ladder)
    least = ladder.least
    if best is None or best.spread > least:
        as_is, limits = _as_is(task), Limits(least_spread=least)
        found = _tried(task, limits, by_moves=False, hint=best or as_is)
        best = _better(task, best, found, as_is)
        least, fewest = (found.bound if found else least), ladder.moves_for(best.spread)
    if best.moves > fewest:
        limits = Limits(most_spread=best.spread, least_moves=fewest)
        fewer = _tried(task, limits, hint=best)
        best, fewest = (fewer, max(fewest, fewer.bound)) if fewer else (best, fewest)
    return best, least, fewest


def _by_legs(task: Task, items: Items, ladder: Ladder) -> tuple[Placed | None, int]:
    """The ladder's last rung, if its ways find their places; and the fewest moves for it.

    A way is tried with all that keep their leg staying where they are; only if none of them fits,
    further bodies may make room. What takes m moves in all is thus met among the ways with m
    moves, or as a way with fewer and room made for it.
    """
    best: Placed | None = None
    reached = ladder.rungs[-1] if ladder.rungs else None
    if reached is None:
        return None, 0
    fitting = Fitting(task.frame, task.bodies, task.groups)
    fewest = ladder.moves_for(reached)
    stop = fewest + RUNGS_MORE
    if task.most_moves is not None:
        stop = min(stop, task.most_moves + 1)
    for moves in range(fewest, stop):
        if best is not None and best.moves <= moves:
            return best, moves
        ways, all_seen = ladder.ways(moves, reached)
        fits, all_seen = _first_fit(fitting, items, ways, all_seen)
        if fits is not None:
            return Placed(spots=fits, bound=moves), moves
        best, all_told = _with_room(task, items, ways[:TRIES], best)
        if not (all_seen and all_told) or len(ways) > TRIES:
            return best, moves + (all_seen and all_told)
    return best, stop


def _with_room(
    task: Task, items: Items, ways: Sequence[Way], best: Placed | None
) -> tuple[Placed | None, bool]:
    """The fewest moves for one of the ways, further bodies making room; False where the solver
    could not tell for one of them."""
    all_told = True
    for way in ways:
        fewer = Limits(most_moves=best.moves - 1 if best else None)
        try:
            found = task.place(fewer, fixed=items.of(way))
        except Undecided:
            all_told = False
            continue
        if found is not None:
            best, all_told = found, all_told and found.bound >= found.moves
    return best, all_told


def _first_fit(
    fitting: Fitting, items: Items, ways: Sequence[Way], all_seen: bool
) -> tuple[tuple[Spot, ...] | None, bool]:
    for way in ways:
        try:
            fits = fitting.fit(items.of(way))
        except GaveUp:
            all_seen = False
            continue
        if fits is not None:
            return fits, all_seen
    return None, all_seen


def _tried(task: Task, limits: Limits, **said: Any) -> Placed | None:
    """What is found in the time there is."""
    try:
        return task.place(limits, **said)
    except Undecided:
        return None


def _as_is(task: Task) -> Placed | None:
    """The panel as it stands, where that keeps the rules."""
    spots = tuple(body.stay for body in task.bodies if body.stay is not None)
    poles = [pole for spot in spots for pole in spot.poles if pole[0] in task.groups]
    lawful = len(spots) == len(task.bodies) and len(set(poles)) == len(poles)
    return Placed(spots=spots, bound=0) if lawful else None


def _better(task: Task, best: Placed | None, found: Placed | None, as_is: Placed | None) -> Placed:
    known = [one for one in (best, found, as_is) if one is not None]
    if not known:
        raise no_way(task.most_moves)
    return min(known, key=lambda one: (one.spread, one.moves))


def no_way(most_moves: int | None = None) -> NotCovered:
    told = (
        "No arrangement of these breakers keeps all the rules with the locked ones where they "
        "are. Unlock one, or look at the multiwire groups."
    )
    if most_moves is not None:
        told = f"With {most_moves} moves at most the rules cannot all be kept. Allow more moves."
    return NotCovered(told, cite="210.4")
