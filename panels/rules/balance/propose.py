"""Where should each breaker of a panel sit, and what does it take?"""

from __future__ import annotations

from collections.abc import Sequence

from panels.rules.balance.bodies import Body, bodies_of, seated
from panels.rules.balance.breakers import SCALE, Breaker, Move, Proposal, Rung, total
from panels.rules.balance.groups import kept_apart
from panels.rules.balance.items import items_of
from panels.rules.balance.ladder import Ladder, climb
from panels.rules.balance.placement import Placed
from panels.rules.balance.search import Task, no_way, search
from panels.rules.layout import Frame, Seat


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
        raise no_way()
    groups, more = kept_apart(frame, breakers, seats, bodies)
    task = Task(frame=frame, bodies=tuple(bodies), groups=groups, most_moves=most_moves)
    items = items_of(frame, bodies, groups)
    if not all(items.choices):
        raise no_way()
    capacity = [frame.leg(space) for space in range(1, frame.spaces + 1)]
    ladder = climb(
        items.base, items.choices, most=most_moves,
        capacity=tuple(capacity.count(leg) for leg in frame.system.legs),
    )  # fmt: skip
    found, least, least_moves = search(task, items, ladder)
    return _told(
        frame, breakers, seats, bodies, found,
        least=least, least_moves=least_moves, ladder=ladder, notes=(*notes, *more),
    )  # fmt: skip


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
