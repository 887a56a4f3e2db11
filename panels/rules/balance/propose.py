"""Which places leave the legs most alike, and is that proven?

First the legs alone (`ladder`): that bounds what any arrangement can do, and names choices that
reach it. If one of them finds its places by as few moves, it is the answer and proven. If not,
the solver is asked for the whole panel.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from panels.rules.balance.bodies import Body, bodies_of, seated
from panels.rules.balance.breakers import SCALE, Breaker, Move, Proposal, Rung, total
from panels.rules.balance.fitting import Fitting, GaveUp
from panels.rules.balance.groups import kept_apart
from panels.rules.balance.items import Items, items_of
from panels.rules.balance.ladder import Ladder, Way, climb
from panels.rules.balance.placement import Limits, Placed, place
from panels.rules.balance.spots import Spot
from panels.rules.errors import NotCovered
from panels.rules.layout import Frame, Seat

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
        self, limits: Limits, *, by_moves: bool = True, hint: Placed | None = None, **fixed: object
    ) -> Placed | None:
        if self.most_moves is not None and limits.most_moves is None:
            limits = replace(limits, most_moves=self.most_moves)
        return place(
            self.frame, self.bodies, self.groups, limits=limits, by_moves=by_moves, hint=hint,
            effort=EFFORT, **fixed,
        )  # fmt: skip


def propose(
    frame: Frame, breakers: Sequence[Breaker], *, most_moves: int | None = None
) -> Proposal:
    """Places for the breakers with the least imbalance of recorded load between the legs and, of
    those, the fewest moves; with `most_moves` the least imbalance that so many can reach.

    Single phase: the imbalance is |A - B|; three phase: the largest leg less the smallest. A
    two-pole breaker loads its legs with half each, a three-pole with a third. Raises
    `BadDescription` (a space taken twice, no such seat) and `NotCovered` where no arrangement
    keeps the rules.
    """
    seats = seated(frame, breakers)
    bodies, notes = bodies_of(frame, breakers, seats)
    if not all(body.spots for body in bodies):
        raise _no_way()
    groups, more = kept_apart(frame, breakers, seats, bodies)
    task = Task(frame=frame, bodies=tuple(bodies), groups=groups, most_moves=most_moves)
    items = items_of(frame, bodies, groups)
    if not all(items.choices):
        raise _no_way()
    capacity = [frame.leg(space) for space in range(1, frame.spaces + 1)]
    ladder = climb(
        items.base, items.choices, most=most_moves,
        capacity=tuple(capacity.count(leg) for leg in frame.system.legs),
    )  # fmt: skip
    found, least, least_moves = _search(task, items, ladder)
    return _told(
        frame, breakers, seats, bodies, found,
        least=least, least_moves=least_moves, ladder=ladder, notes=(*notes, *more),
    )  # fmt: skip


def _search(task: Task, items: Items, ladder: Ladder) -> tuple[Placed, int, int]:
    """The arrangement found, the least imbalance there can be, and the fewest moves for it."""
    best, fewest = _by_legs(task, items, ladder)
    least = ladder.least
    if best is None or best.spread > least:
        found = task.place(Limits(least_spread=least), by_moves=False, hint=best or _as_is(task))
        best = _better(best, found)
        least, fewest = (found.bound if found else least), ladder.moves_for(best.spread)
    if best.moves > fewest:
        limits = Limits(most_spread=best.spread, least_moves=fewest)
        fewer = task.place(limits, hint=best)
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
    for moves in range(fewest, fewest + RUNGS_MORE):
        if best is not None and best.moves <= moves:
            return best, moves
        ways, all_seen = ladder.ways(moves, reached)
        fits, all_seen = _first_fit(fitting, items, ways, all_seen)
        if fits is not None:
            return Placed(spots=fits, bound=moves), moves
        for way in ways[:TRIES]:
            fewer = Limits(most_moves=best.moves - 1 if best else None)
            found = task.place(fewer, fixed=items.of(way))
            best = min(filter(None, (best, found)), key=lambda one: one.moves, default=None)
        if not all_seen or len(ways) > TRIES:
            return best, moves + all_seen
    return best, fewest + RUNGS_MORE


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


def _as_is(task: Task) -> Placed | None:
    """The panel as it stands, where that keeps the rules."""
    stays = [body.stay for body in task.bodies]
    spots = tuple(spot for spot in stays if spot is not None)
    return Placed(spots=spots, bound=0) if len(spots) == len(stays) else None


def _better(best: Placed | None, found: Placed | None) -> Placed:
    known = [one for one in (best, found) if one is not None]
    if not known:
        raise _no_way()
    return min(known, key=lambda one: (one.spread, one.moves))


def _no_way() -> NotCovered:
    return NotCovered(
        "No arrangement of these breakers keeps all the rules with the locked ones where they "
        "are. Unlock one, or look at the multiwire groups.",
        cite="210.4",
    )


def _told(
    frame: Frame, breakers: Sequence[Breaker], seats: Sequence[Seat], bodies: Sequence[Body],
    found: Placed, *, least: int, least_moves: int, ladder: Ladder, notes: tuple[str, ...],
) -> Proposal:  # fmt: skip
    now = list(seats)
    for body, spot in zip(bodies, found.spots, strict=True):
        for index, seat in zip(body.members, spot.seats, strict=True):
            now[index] = seat
    return Proposal(
        before=total(frame, breakers, seats),
        after=total(frame, breakers, now),
        least=min(least, found.spread) / SCALE,
        moves=found.moves,
        least_moves=min(least_moves, found.moves),
        moved=tuple(
            Move(index=index, was=seats[index], now=there)
            for index, there in enumerate(now)
            if there != seats[index]
        ),
        rungs=tuple(
            Rung(moves=moves, least=rung / SCALE)
            for moves, rung in enumerate(ladder.rungs)
            if rung is not None
        ),
        notes=notes,
    )
