"""Which conductor sizes are there, how thick is each, and which is larger?

Circular mils of the AWG sizes: NFPA 70-2017, Chapter 9, Table 8 (American Wire Gauge, ASTM B258);
a size in kcmil is its own area.
"""

from __future__ import annotations

import enum
import re
from dataclasses import dataclass

from panels.rules.errors import BadDescription

GAUGES = {
    "14": 4110, "12": 6530, "10": 10380, "8": 16510, "6": 26240, "4": 41740, "3": 52620,
    "2": 66360, "1": 83690, "1/0": 105600, "2/0": 133100, "3/0": 167800, "4/0": 211600,
}  # fmt: skip
KCMIL = (250, 300, 350, 400, 500, 600)
GROUNDING_KCMIL = (700, 750, 800, 1200)  # only in the table of equipment grounding conductors
LONGEST = 40
SPELLING = re.compile(r"\s*#?\s*(\d/0|\d{1,4})\s*(AWG|kcmil|MCM)?\s*", re.IGNORECASE)


class Metal(enum.StrEnum):
    """What the conductor is made of."""

    COPPER = "cu"
    ALUMINIUM = "al"

    @property
    def label(self) -> str:
        return {"cu": "copper", "al": "aluminum"}[self.value]


class Raceway(enum.StrEnum):
    """What the conductors run in; it sets their reactance, steel the most."""

    PVC = "pvc"
    ALUMINIUM = "al"
    STEEL = "steel"

    @property
    def label(self) -> str:
        return {"pvc": "PVC or cable", "al": "aluminum raceway", "steel": "steel raceway"}[
            self.value
        ]


@dataclass(frozen=True, order=True)
class Size:
    """A conductor size; sizes are ordered by their area."""

    circular_mils: int
    name: str

    @property
    def label(self) -> str:
        return f"{self.name} {'AWG' if self.name in GAUGES else 'kcmil'}"

    def __str__(self) -> str:
        return self.label


def _size(name: str) -> Size:
    return Size(GAUGES.get(name) or int(name) * 1000, name)


SIZES: tuple[Size, ...] = tuple(map(_size, (*GAUGES, *map(str, KCMIL))))  # in rising order
KNOWN: dict[str, Size] = {
    size.name: size for size in (*SIZES, *map(_size, map(str, GROUNDING_KCMIL)))
}


def size_of(text: str | int, *, field: str = "size") -> Size:
    """The size of ``"12"``, ``12``, ``"2/0 AWG"`` or ``"250 kcmil"``. Raises `BadDescription`."""
    written = text if isinstance(text, str) else str(text) if type(text) is int else ""
    match = SPELLING.fullmatch(written[:LONGEST])
    size = KNOWN.get(match[1]) if match else None
    if size is None:
        known = ", ".join(size.name for size in SIZES)
        told = repr(text)[:LONGEST]
        raise BadDescription(field, f"{told} is not a conductor size. There are {known}.")
    return size


def metal_of(text: str, *, field: str = "metal") -> Metal:
    """The metal of ``"cu"`` or ``"al"``. Raises `BadDescription`."""
    try:
        return Metal(text)
    except ValueError:
        told = repr(text)[:LONGEST]
        raise BadDescription(field, f'{told} is not a metal here: "cu" or "al".') from None


def raceway_of(text: str, *, field: str = "raceway") -> Raceway:
    """The raceway of ``"pvc"``, ``"al"`` or ``"steel"``. Raises `BadDescription`."""
    try:
        return Raceway(text)
    except ValueError:
        told = repr(text)[:LONGEST]
        raise BadDescription(
            field, f'{told} is not a raceway here: "pvc" (and cable), "al" or "steel".'
        ) from None
