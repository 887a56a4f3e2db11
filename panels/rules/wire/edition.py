"""What does an edition of the code have to say before a conductor can be chosen by it?

Shapes only; the values are in `panels/editions/wire.py` and its tables.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from contractor.units import Quantity
from panels.rules.errors import NotCovered
from panels.rules.sourced import Sourced
from panels.rules.tables import Bands
from panels.rules.wire.sizes import Metal, Raceway, Size

K = TypeVar("K", bound=Hashable)
T = TypeVar("T")


@dataclass(frozen=True, kw_only=True)
class Cells(Generic[K, T]):
    """A table by row and column; what is not printed is refused, never guessed."""

    cells: Mapping[K, T]

    def at(self, key: K, told: str, *, cite: str) -> T:
        """The value of that cell; `told` names it for people. Raises `NotCovered`."""
        try:
            return self.cells[key]
        except KeyError:
            raise NotCovered(f"The table has no value for {told}", cite=cite) from None


@dataclass(frozen=True, kw_only=True)
class Steps(Generic[T]):
    """Rows by their upper limit, the first that reaches counts; a limit of None is open-ended."""

    rows: tuple[tuple[float | None, T], ...]

    def __post_init__(self) -> None:
        limits = [limit for limit, _ in self.rows if limit is not None]
        if limits != sorted(set(limits)) or None in (limit for limit, _ in self.rows[:-1]):
            raise ValueError("limits must rise and only the last row is open-ended")

    def at(self, number: float, told: str, *, cite: str) -> T:
        """The value of the first row that reaches `number`. Raises `NotCovered` above the last."""
        for limit, value in self.rows:
            if limit is None or number <= limit:
                return value
        raise NotCovered(f"{told} is above the table's last row", cite=cite)


Column = tuple[Size, Metal, int]  # insulation or terminal column, in degrees Celsius
BySize = tuple[Size, Metal]


@dataclass(frozen=True, kw_only=True)
class Carrying:
    """What a conductor carries, and what takes away from it."""

    ampacity: Sourced[Cells[Column, int]]
    ambient: Sourced[Bands[Mapping[int, float]]]
    bundling: Sourced[Bands[float]]
    bundling_from: Sourced[Quantity]
    terminals_60_through: Sourced[Quantity]
    terminals_60_through_size: Sourced[Size]
    small: Sourced[Cells[BySize, int]]
    next_size_through: Sourced[Quantity]
    parallel_from: Sourced[Size]
    continuous: Sourced[float]


@dataclass(frozen=True, kw_only=True)
class DwellingWire:
    """Conductors that carry the whole load of one dwelling, single phase.

    `rated` gives the size for each rating as printed, copper and aluminium.
    """

    factor: Sourced[float]
    least: Sourced[Quantity]
    most: Sourced[Quantity]
    rated: Sourced[Mapping[float, Mapping[Metal, Size]]]


@dataclass(frozen=True, kw_only=True)
class Grounding:
    """Equipment grounding by the overcurrent device, electrode conductors by the service."""

    equipment: Sourced[Steps[Mapping[Metal, Size]]]
    in_proportion: Sourced[bool]
    electrode: Sourced[Mapping[Metal, Steps[Mapping[Metal, Size]]]]
    to_rod: Sourced[Mapping[Metal, Size]]
    to_concrete: Sourced[Mapping[Metal, Size]]


@dataclass(frozen=True, kw_only=True)
class Falling:
    """Resistance and reactance in ohms per 1000 ft, and the advice on voltage drop."""

    impedance: Sourced[Cells[tuple[Size, Metal, Raceway], tuple[float, float]]]
    resistance: Sourced[Cells[tuple[Size, Metal, bool], float]]
    temperature: Sourced[Mapping[Metal, float]]
    k: Sourced[Mapping[Metal, float]]
    branch_percent: Sourced[float]
    total_percent: Sourced[float]


@dataclass(frozen=True, kw_only=True)
class Wire:
    """All of it, as one group of an edition."""

    carrying: Carrying
    dwelling: DwellingWire
    grounding: Grounding
    falling: Falling
