"""Where does a breaker sit in a panel, on which legs, and can it sit there at all?"""

from __future__ import annotations

import enum
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from contractor.errors import Invalid

COLUMN = 1000  # slots of the right column start here: no panel has 500 rows


class LayoutError(Invalid):
    """The breaker cannot sit there; the sentence says why and what to do."""

    def __init__(self, sentence: str, *, field: str = "space") -> None:
        super().__init__("layout", sentence, fields={field: sentence})


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
    """The upper or lower breaker of a tandem; of a two-pole in a quad, the outer or inner pair."""

    UPPER = "a"
    LOWER = "b"

    @property
    def label(self) -> str:
        return {"a": "upper", "b": "lower"}[self.value]


class Pole(NamedTuple):
    """One pole of a breaker: its space, which half of it (None: all of it), and the leg."""

    space: int
    half: Half | None
    leg: str


@dataclass(frozen=True, kw_only=True)
class Seat:
    """Where a breaker sits: its poles, and its slots on the bus.

    `slots` are half-open ranges of half spaces, unique over the panel; only the outer pair of
    a quad has two.
    """

    poles: tuple[Pole, ...]
    slots: tuple[tuple[int, int], ...]

    @property
    def spaces(self) -> tuple[int, ...]:
        return tuple(pole.space for pole in self.poles)

    @property
    def legs(self) -> tuple[str, ...]:
        return tuple(pole.leg for pole in self.poles)

    @property
    def text(self) -> str:
        """As the trade writes it: 1,3 or 5a or 5b,7a."""
        return ",".join(
            f"{pole.space}{pole.half.value if pole.half else ''}" for pole in self.poles
        )

    def overlaps(self, other: Seat) -> bool:
        return any(
            start < other_end and other_start < end
            for start, end in self.slots
            for other_start, other_end in other.slots
        )


@dataclass(frozen=True, kw_only=True)
class Frame:
    """The backplate: how many spaces, numbered how, on how many legs.

    `tandem` are the spaces marked as taking a tandem; None when that was not recorded.
    """

    spaces: int
    numbering: Numbering
    system: System
    tandem: frozenset[int] | None = None

    @property
    def rows(self) -> int:
        return self.spaces if self.numbering is Numbering.SINGLE else (self.spaces + 1) // 2

    def place(self, space: int) -> tuple[int, int]:
        """(column, row) of a space, both from 0. Raises `LayoutError` outside the panel."""
        if not 1 <= space <= self.spaces:
            raise LayoutError(
                f"This panel has spaces 1 to {self.spaces}; there is no space {space}."
            )
        if self.numbering is Numbering.ACROSS:
            return (space - 1) % 2, (space - 1) // 2
        return divmod(space - 1, self.rows)

    def number(self, column: int, row: int) -> int | None:
        """The space at a column and row, or None where there is none."""
        if not 0 <= row < self.rows:
            return None
        across = self.numbering is Numbering.ACROSS
        space = row * 2 + column + 1 if across else column * self.rows + row + 1
        return space if space <= self.spaces else None

    def leg(self, space: int) -> str:
        """The leg a space stands on: legs alternate down each column (common practice)."""
        return self.system.legs[self.place(space)[1] % len(self.system.legs)]


def seat(frame: Frame, *, space: int, poles: int, half: Half | None = None) -> Seat:
    """Seat a breaker whose first pole is at `space`; its poles follow down the same column.

    Half of a tandem takes half a space. A two-pole in a quad takes half of two spaces: the
    inner pair (`Half.LOWER`) the halves that meet, the outer pair (`Half.UPPER`) the other two.
    Raises `LayoutError`.
    """
    spaces = _column_from(frame, space=space, poles=poles)
    halves = _halves(poles=poles, half=half)
    _check_tandem(frame, spaces=spaces, half=half)
    taken = [
        Pole(number, part, frame.leg(number)) for number, part in zip(spaces, halves, strict=True)
    ]
    return Seat(poles=tuple(taken), slots=_joined(_slots(frame, pole) for pole in taken))


def _column_from(frame: Frame, *, space: int, poles: int) -> tuple[int, ...]:
    column, row = frame.place(space)
    legs = len(frame.system.legs)
    if not 1 <= poles <= 3:
        raise LayoutError("A breaker has one, two or three poles.")
    if poles > legs:
        raise LayoutError(f"A {poles}-pole breaker needs {poles} legs; this panel has {legs}.")
    found = [frame.number(column, row + step) for step in range(poles)]
    spaces = tuple(number for number in found if number is not None)
    if len(spaces) < poles:
        raise LayoutError(
            f"A {poles}-pole breaker starting at space {space} runs off the end of its column."
        )
    return spaces


def _halves(*, poles: int, half: Half | None) -> tuple[Half | None, ...]:
    if half is None:
        return (None,) * poles
    if poles == 1:
        return (half,)
    if poles == 2:
        other = Half.LOWER if half is Half.UPPER else Half.UPPER
        return (half, other)
    raise LayoutError("Half-size breakers have one or two poles. Choose a full-size breaker.")


def _check_tandem(frame: Frame, *, spaces: tuple[int, ...], half: Half | None) -> None:
    if half is None or frame.tandem is None:
        return
    barred = [space for space in spaces if space not in frame.tandem]
    if barred:
        told = span(frame.tandem) or "none"
        raise LayoutError(
            f"Space {barred[0]} does not take a tandem; marked for tandems: {told}. "
            "Choose a full-size breaker, or correct the panel’s tandem spaces."
        )


def _slots(frame: Frame, pole: Pole) -> tuple[int, int]:
    column, row = frame.place(pole.space)
    start = column * COLUMN + row * 2
    if pole.half is None:
        return start, start + 2
    return (start, start + 1) if pole.half is Half.UPPER else (start + 1, start + 2)


def _joined(ranges: Iterable[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    joined: list[tuple[int, int]] = []
    for start, end in ranges:
        if joined and joined[-1][1] == start:
            joined[-1] = (joined[-1][0], end)
        else:
            joined.append((start, end))
    return tuple(joined)


def span(numbers: Iterable[int]) -> str:
    """Numbers as a person writes them: 1-4, 7, 9-12."""
    parts: list[list[int]] = []
    for number in sorted(numbers):
        if parts and number == parts[-1][-1] + 1:
            parts[-1].append(number)
        else:
            parts.append([number])
    return ", ".join(f"{part[0]}-{part[-1]}" if len(part) > 1 else str(part[0]) for part in parts)
