"""Where does a breaker sit in a panel, on which legs, and can it sit there at all?"""

from __future__ import annotations

import enum
from dataclasses import dataclass

COLUMN = 1000  # slots of the right column start here: no panel has 500 rows


class LayoutError(ValueError):
    """The breaker cannot sit there; the text says why and what to do."""


class Numbering(enum.Enum):
    """How spaces are numbered on the backplate (common practice, no source)."""

    ACROSS = "across"
    DOWN = "down"
    SINGLE = "single"

    @property
    def label(self) -> str:
        return {
            "across": "odd left, even right",
            "down": "down the left, then down the right",
            "single": "one column",
        }[self.value]


class System(enum.Enum):
    """Voltage systems met in homes and small shops."""

    SPLIT_240 = "1ph-240"
    WYE_208_2LEG = "1ph-208"
    WYE_208 = "3ph-208"
    DELTA_240 = "3ph-240"
    WYE_480 = "3ph-480"

    @property
    def label(self) -> str:
        return {
            "1ph-240": "120/240 V, single phase, 3-wire",
            "1ph-208": "208Y/120 V, two legs and neutral",
            "3ph-208": "208Y/120 V, three phase, 4-wire",
            "3ph-240": "120/240 V, three phase, high leg",
            "3ph-480": "480Y/277 V, three phase, 4-wire",
        }[self.value]

    @property
    def legs(self) -> tuple[str, ...]:
        return ("A", "B", "C") if self.value.startswith("3ph") else ("A", "B")


class Half(enum.Enum):
    """The upper or lower breaker of a tandem."""

    UPPER = "a"
    LOWER = "b"

    @property
    def label(self) -> str:
        return {"a": "upper", "b": "lower"}[self.value]


@dataclass(frozen=True, kw_only=True)
class Frame:
    """The backplate: how many spaces, numbered how, on how many legs."""

    spaces: int
    numbering: Numbering
    system: System

    def place(self, space: int) -> tuple[int, int]:
        """(column, row) of a space, both from 0. Raises `LayoutError` outside the panel."""
        if not 1 <= space <= self.spaces:
            raise LayoutError(f"This panel has spaces 1 to {self.spaces}; there is no space {space}.")
        if self.numbering is Numbering.SINGLE:
            return 0, space - 1
        if self.numbering is Numbering.ACROSS:
            return (space - 1) % 2, (space - 1) // 2
        rows = (self.spaces + 1) // 2
        return divmod(space - 1, rows)

    def number(self, column: int, row: int) -> int | None:
        """The space at a column and row, or None where there is none."""
        if self.numbering is Numbering.SINGLE:
            space = row + 1
        elif self.numbering is Numbering.ACROSS:
            space = row * 2 + column + 1
        else:
            space = column * ((self.spaces + 1) // 2) + row + 1
        return space if 1 <= space <= self.spaces and self.place(space) == (column, row) else None

    def leg(self, space: int) -> str:
        """The leg a space stands on: legs alternate down each column (common practice)."""
        return self.system.legs[self.place(space)[1] % len(self.system.legs)]


@dataclass(frozen=True, kw_only=True)
class Seat:
    """Where a breaker sits: the spaces it takes, its legs, and its slots on the bus."""

    spaces: tuple[int, ...]
    legs: tuple[str, ...]
    slots: tuple[int, int]


def seat(frame: Frame, *, space: int, poles: int, half: Half | None = None) -> Seat:
    """Seat a breaker whose first pole is at `space`.

    Poles of one breaker sit in adjacent spaces of one column. `slots` is a half-open range in
    half spaces, unique over the panel. Raises `LayoutError`.
    """
    column, row = frame.place(space)
    if half and poles != 1:
        raise LayoutError("Half a tandem has one pole. Choose one pole, or a full-size breaker.")
    if poles > len(frame.system.legs):
        raise LayoutError(
            f"A {poles}-pole breaker needs {poles} legs; this panel has {len(frame.system.legs)}."
        )
    found = [frame.number(column, row + step) for step in range(poles)]
    spaces = tuple(number for number in found if number is not None)
    if len(spaces) < poles:
        raise LayoutError(
            f"A {poles}-pole breaker starting at space {space} runs off the end of its column."
        )
    start = column * COLUMN + row * 2
    slots = (start, start + poles * 2)
    if half:
        slots = (start, start + 1) if half is Half.UPPER else (start + 1, start + 2)
    return Seat(spaces=spaces, legs=tuple(frame.leg(number) for number in spaces), slots=slots)
