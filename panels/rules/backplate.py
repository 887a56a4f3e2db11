"""How do breakers stand about the bus, row by row, as the trade draws a panel schedule?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

from panels.rules.layout import Frame, Half, Pole, Seat

T = TypeVar("T")


@dataclass(frozen=True, kw_only=True)
class Part(Generic[T]):
    """What is in a space, or in half of one; `item` None means nothing is.

    `beside` names the other half that a two-pole in a quad takes; `first` is false where such
    a breaker was met in an earlier space.
    """

    mark: str
    leg: str
    item: T | None = None
    beside: str = ""
    first: bool = True


@dataclass(frozen=True, kw_only=True)
class Side(Generic[T]):
    """One cell beside the bus: a breaker over its spaces, or the two halves of a space."""

    spaces: tuple[int, ...]
    parts: tuple[Part[T], ...]

    @property
    def rows(self) -> int:
        return len(self.spaces)


@dataclass(frozen=True, kw_only=True)
class Row(Generic[T]):
    """One row. A side is None where a breaker above covers it, or nothing can sit."""

    leg: str
    left_no: int | None
    right_no: int | None
    left: Side[T] | None
    right: Side[T] | None


def rows(frame: Frame, seated: Iterable[tuple[T, Seat]]) -> list[Row[T]]:
    """Every row from the top, with every space of the panel exactly once."""
    by_space = {side.spaces[0]: side for side in sides(frame, seated)}
    found = []
    for number in range(frame.rows):
        left, right = frame.number(0, number), frame.number(1, number)
        found.append(
            Row(
                leg=frame.leg(left or right or 1),
                left_no=left,
                right_no=right,
                left=by_space.get(left or 0),
                right=by_space.get(right or 0),
            )
        )
    return found


def sides(frame: Frame, seated: Iterable[tuple[T, Seat]]) -> list[Side[T]]:
    """Each breaker, tandem and empty space once, by the number of its first space."""
    full: dict[int, tuple[T, Seat]] = {}
    halves: dict[tuple[int, Half], Part[T]] = {}
    covered: set[int] = set()
    for item, seat in seated:
        if seat.poles[0].half is None:
            full[seat.spaces[0]] = (item, seat)
            covered.update(seat.spaces[1:])
        else:
            halves |= {(pole.space, half): part for pole, half, part in _halves(item, seat)}
    return [
        _full(*full[space]) if space in full else _split(frame, space, halves)
        for space in range(1, frame.spaces + 1)
        if space not in covered
    ]


def _full(item: T, seat: Seat) -> Side[T]:
    part = Part(mark=seat.text, leg=seat.legs[0], item=item)
    return Side(spaces=seat.spaces, parts=(part,))


def _halves(item: T, seat: Seat) -> Iterator[tuple[Pole, Half, Part[T]]]:
    marks = seat.text.split(",")
    for index, (pole, mark) in enumerate(zip(seat.poles, marks, strict=True)):
        beside = ", ".join(other for other in marks if other != mark)
        part = Part(mark=mark, leg=pole.leg, item=item, beside=beside, first=index == 0)
        yield pole, pole.half or Half.UPPER, part


def _split(frame: Frame, space: int, halves: dict[tuple[int, Half], Part[T]]) -> Side[T]:
    leg = frame.leg(space)
    if not any((space, half) in halves for half in Half):
        return Side(spaces=(space,), parts=(Part(mark=str(space), leg=leg),))
    parts = tuple(
        halves.get((space, half)) or Part(mark=f"{space}{half.value}", leg=leg) for half in Half
    )
    return Side(spaces=(space,), parts=parts)
