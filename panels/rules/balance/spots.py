"""Where in the panel could a piece go, and what would it put on which leg?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import permutations
from operator import and_

from panels.rules.balance.breakers import HIGH_LEG, Breaker, Vector, on_legs
from panels.rules.layout import Frame, LayoutError, Seat

Pole = tuple[str, str]  # a multiwire group and a leg: two of them never stand together
Seats = tuple[Seat, ...]


@dataclass(frozen=True, kw_only=True)
class Spot:
    """One way to seat a body: its members' seats, the spaces covered, what falls on the legs.

    `moves` counts the bodies that change their place for it: of tied breakers each is one.
    """

    seats: Seats
    spaces: frozenset[int]
    load: Vector
    poles: tuple[Pole, ...]
    moves: int

    def __hash__(self) -> int:  # the seats say the rest, and are long to hash
        return hash((self.spaces, self.moves))


def rigid(
    frame: Frame, breakers: Sequence[Breaker], seats: Sequence[Seat], piece: Sequence[int],
    *, stays: bool,
) -> tuple[Spot, ...]:  # fmt: skip
    """A breaker, tandem or quad: shifted as it is. `stays`: only where it is now."""
    here = tuple(seats[index] for index in piece)
    if stays:
        return (_spot(frame, breakers, piece, here, moves=0),)
    return tuple(
        _spot(frame, breakers, piece, there, moves=int(there != here))
        for there in _shifted(frame, breakers, here, piece)
        if _allowed(frame, there)
    )


def tied(
    frame: Frame, breakers: Sequence[Breaker], seats: Sequence[Seat], group: Sequence[int]
) -> tuple[Spot, ...]:
    """Handle-tied single-poles: next to each other in any order, those locked where they are."""
    here = tuple(seats[index] for index in group)
    fixed = [breakers[index].locked for index in group]
    found = []
    for there in _in_a_column(frame, breakers, group):
        changed = [one != other for one, other in zip(here, there, strict=True)]
        if any(map(and_, changed, fixed)):
            continue
        if _allowed(frame, [seat for seat, stays in zip(there, fixed, strict=True) if not stays]):
            found.append(_spot(frame, breakers, group, there, moves=sum(changed)))
    return tuple(found)


def _shifted(
    frame: Frame, breakers: Sequence[Breaker], here: Seats, piece: Sequence[int]
) -> Iterator[Seats]:
    """Every way to seat the piece with its top at another space."""
    top = min(frame.place(space)[1] for seat in here for space in seat.spaces)
    down = [frame.place(seat.spaces[0])[1] - top for seat in here]
    for first in range(1, frame.spaces + 1):
        column, row = frame.place(first)
        steps = zip(piece, down, strict=True)
        found = [_at(frame, breakers[index], column, row + step) for index, step in steps]
        there = tuple(seat for seat in found if seat is not None)
        if len(there) == len(piece):
            yield there


def _in_a_column(
    frame: Frame, breakers: Sequence[Breaker], group: Sequence[int]
) -> Iterator[Seats]:
    for first in range(1, frame.spaces + 1):
        column, row = frame.place(first)
        for order in permutations(range(len(group))):
            found = [
                _at(frame, breakers[index], column, row + step)
                for index, step in zip(group, order, strict=True)
            ]
            there = tuple(seat for seat in found if seat is not None)
            if len(there) == len(group):
                yield there


def _at(frame: Frame, breaker: Breaker, column: int, row: int) -> Seat | None:
    space = frame.number(column, row)
    if space is None:
        return None
    try:
        return replace(breaker, space=space).seat_in(frame)
    except LayoutError:
        return None


def _allowed(frame: Frame, there: Sequence[Seat]) -> bool:
    """No single-pole breaker stands on a high leg: it has no voltage for it (110.15)."""
    high = HIGH_LEG.get(frame.system)
    return not any(seat.legs == (high,) for seat in there)


def _spot(
    frame: Frame, breakers: Sequence[Breaker], piece: Sequence[int], there: Seats, *, moves: int
) -> Spot:
    loads = [
        on_legs(frame, breakers[i].va or 0, seat.legs) for i, seat in zip(piece, there, strict=True)
    ]
    return Spot(
        seats=there,
        spaces=frozenset(space for seat in there for space in seat.spaces),
        load=tuple(map(sum, zip(*loads, strict=True))),
        poles=tuple(
            (breakers[i].multiwire, leg)
            for i, seat in zip(piece, there, strict=True)
            if breakers[i].multiwire
            for leg in seat.legs
        ),
        moves=moves,
    )
