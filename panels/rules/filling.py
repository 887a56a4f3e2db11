"""Which space comes next, and which sizes of breaker still fit there?"""

from __future__ import annotations

import enum
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from panels.rules.layout import Frame, Half, LayoutError, Seat, seat


class Size(enum.StrEnum):
    """The shapes of breaker a person chooses between."""

    ONE = "1"
    TWO = "2"
    THREE = "3"
    TANDEM = "t"
    QUAD = "q"

    @property
    def label(self) -> str:
        return {
            "1": "1-pole",
            "2": "2-pole",
            "3": "3-pole",
            "t": "tandem",
            "q": "quad, 2-pole",
        }[self.value]

    @property
    def poles(self) -> int:
        return {"1": 1, "2": 2, "3": 3, "t": 1, "q": 2}[self.value]

    @property
    def is_half(self) -> bool:
        return self in (Size.TANDEM, Size.QUAD)


@dataclass(frozen=True, kw_only=True)
class Fit:
    """A size at a space: its seat, or why it does not fit there."""

    size: Size
    seat: Seat | None
    half: Half | None = None
    why: str = ""


def fits(frame: Frame, taken: Iterable[Seat], *, space: int, half: Half | None = None) -> list[Fit]:
    """Every size this panel knows, with where it would sit. `half` asks for that half first."""
    taken = list(taken)
    sizes = [size for size in Size if size.poles <= len(frame.system.legs)]
    return [_fit(frame, taken, space=space, size=size, half=half) for size in sizes]


def _fit(frame: Frame, taken: Sequence[Seat], *, space: int, size: Size, half: Half | None) -> Fit:
    wanted: tuple[Half | None, ...] = (None,)
    if size.is_half:
        wanted = (Half.LOWER, Half.UPPER) if half is Half.LOWER else (Half.UPPER, Half.LOWER)
    why = ""
    for part in wanted:
        try:
            there = seat(frame, space=space, poles=size.poles, half=part)
        except LayoutError as refused:
            return Fit(size=size, seat=None, why=refused.sentence)
        clash = next((one for one in taken if one.overlaps(there)), None)
        if clash is None:
            return Fit(size=size, seat=there, half=part)
        why = f"{clash.text} is taken."
    return Fit(size=size, seat=None, why=why)


def next_place(
    frame: Frame, taken: Iterable[Seat], *, after: Seat | None = None, by_number: bool = False
) -> tuple[int, Half | None] | None:
    """The space to fill after `after`: the other half of its tandem if that is free, else the
    next empty space down the column (or `by_number`), from the top again at the end.

    None when the panel is full.
    """
    taken = list(taken)
    if after is not None and len(after.poles) == 1 and after.poles[0].half is Half.UPPER:
        there = seat(frame, space=after.spaces[0], poles=1, half=Half.LOWER)
        if not any(one.overlaps(there) for one in taken):
            return after.spaces[0], Half.LOWER
    order = spaces_in_order(frame, by_number=by_number)
    used = {space for one in taken for space in one.spaces}
    start = order.index(after.spaces[0]) if after else -1
    turned = order[start + 1 :] + order[: start + 1]
    empty = next((space for space in turned if space not in used), None)
    return None if empty is None else (empty, None)


def spaces_in_order(frame: Frame, *, by_number: bool = False) -> list[int]:
    """All spaces, down the left column and then the right, or by their numbers."""
    numbers = list(range(1, frame.spaces + 1))
    return numbers if by_number else sorted(numbers, key=frame.place)
