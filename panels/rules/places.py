"""What does a person mean by "5", "1,3", "2-6" or "5b,7a" on a panel schedule?"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from panels.rules.layout import Frame, Half, LayoutError, Seat, seat

POINT = re.compile(r"^#?(\d{1,3})\s*([ab])?$", re.IGNORECASE)
RANGE = re.compile(r"^#?(\d{1,3})\s*(?:-|\u2013|to|thru)\s*(\d{1,3})$", re.IGNORECASE)
BETWEEN = re.compile(r"\s*[,/&+;]\s*|\s+and\s+")
NONE = {"none", "no", "0"}


@dataclass(frozen=True, kw_only=True)
class Place:
    """A breaker's first space, how many poles it takes, and the half of a tandem."""

    space: int
    poles: int
    half: Half | None = None

    def seat(self, frame: Frame) -> Seat:
        return seat(frame, space=self.space, poles=self.poles, half=self.half)


def read_place(frame: Frame, text: str) -> Place:
    """The place a schedule names. Raises `LayoutError` when it names no place of this panel.

    One number is one pole unless something else says otherwise; a list or a range names every
    space the breaker takes, and they must be neighbours in one column.
    """
    points: list[tuple[int, Half | None]] = []
    for part in BETWEEN.split(text.strip()):
        points += _points(frame, part, text)
    if any(half for _, half in points):
        return _of_halves(frame, points, text)
    return place_of(frame, [space for space, _ in points])


def place_of(frame: Frame, spaces: Sequence[int]) -> Place:
    """The place of a full-size breaker that takes exactly these spaces. Raises `LayoutError`."""
    if not spaces:
        raise LayoutError("Say which space the breaker starts at.")
    in_order = sorted(spaces, key=frame.place)
    if len(in_order) > 3:
        raise LayoutError("A breaker takes one, two or three spaces.")
    place = Place(space=in_order[0], poles=len(in_order))
    if len(in_order) > 1:
        _check_neighbours(frame, in_order)
    return place


def _check_neighbours(frame: Frame, spaces: Sequence[int]) -> None:
    column, row = frame.place(spaces[0])
    wanted = [frame.number(column, row + step) for step in range(len(spaces))]
    if list(spaces) == wanted:
        return
    told = " and ".join(str(space) for space in spaces)
    fits = [str(number) for number in wanted if number is not None]
    hint = (
        f"a {len(spaces)}-pole breaker at {spaces[0]} takes {' and '.join(fits)}"
        if len(fits) == len(spaces)
        else f"no {len(spaces)}-pole breaker can start at {spaces[0]}"
    )
    raise LayoutError(f"Spaces {told} are not neighbours in one column: {hint}.")


def _points(frame: Frame, part: str, text: str) -> list[tuple[int, Half | None]]:
    if found := POINT.match(part):
        return [(int(found[1]), Half(found[2].lower()) if found[2] else None)]
    if found := RANGE.match(part):
        return [(space, None) for space in _between(frame, int(found[1]), int(found[2]))]
    raise LayoutError(f"“{text}” is not a space. Write 5, or 1,3 for two poles, or 5a for half.")


def _between(frame: Frame, first: int, last: int) -> list[int]:
    """1-3 is 1 and 3 where odd numbers are on the left; across the columns it is what it says."""
    column, row = frame.place(first)
    last_column, last_row = frame.place(last)
    if column != last_column or last_row < row:
        return [first, last]
    steps = (frame.number(column, step) for step in range(row, last_row + 1))
    return [space for space in steps if space is not None]


def _of_halves(frame: Frame, points: list[tuple[int, Half | None]], text: str) -> Place:
    if len(points) == 1:
        return Place(space=points[0][0], poles=1, half=points[0][1])
    points = sorted(points, key=lambda point: frame.place(point[0]))
    (first, half), (_, other) = points[0], points[1]
    if len(points) == 2 and half and other and half is not other:
        _check_neighbours(frame, [space for space, _ in points])
        return Place(space=first, poles=2, half=half)
    raise LayoutError(
        f"“{text}” is not a pair of a quad breaker: the inner pair is written 5b,7a, "
        "the outer pair 5a,7b."
    )


def read_spaces(text: str, *, spaces: int) -> frozenset[int] | None:
    """The spaces marked for tandems: "21-42", "13, 15, 17-20", "none"; empty is not recorded.

    Raises `LayoutError`.
    """
    said = text.strip().lower()
    if not said:
        return None
    if said in NONE:
        return frozenset()
    numbers: set[int] = set()
    for part in BETWEEN.split(said):
        found = RANGE.match(part) or POINT.match(part)
        if not found or (found.lastindex == 2 and not found[2].isdigit()):
            raise LayoutError(
                f"“{text}” is not a list of spaces. Write 21-42, or 13, 15, or none.",
                field="tandem_spaces",
            )
        last = found[2] if found.lastindex == 2 else found[1]
        numbers.update(range(int(found[1]), int(last) + 1))
    outside = [number for number in sorted(numbers) if not 1 <= number <= spaces]
    if outside:
        raise LayoutError(
            f"This panel has spaces 1 to {spaces}; there is no space {outside[0]}.",
            field="tandem_spaces",
        )
    return frozenset(numbers)
