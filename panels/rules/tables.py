"""How is a table of a code read, so that nothing is ever read outside it?"""

from __future__ import annotations

import csv
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Generic, TypeVar

from contractor.units import Quantity
from panels.rules.errors import NotCovered
from panels.rules.quantities import VA, percent, show, va

T = TypeVar("T")


@dataclass(frozen=True, kw_only=True)
class Band(Generic[T]):
    """One row: from `first` through `last` (None: and over)."""

    first: int
    last: int | None
    value: T


@dataclass(frozen=True, kw_only=True)
class Bands(Generic[T]):
    """Rows by count, without a gap or an overlap."""

    rows: tuple[Band[T], ...]

    def __post_init__(self) -> None:
        for row, following in zip(self.rows, self.rows[1:], strict=False):
            if row.last is None or row.last < row.first or following.first != row.last + 1:
                raise ValueError(f"rows {row.first} and {following.first} do not join")

    def at(self, count: int, *, cite: str) -> T:
        """The row's value for `count`. Raises `NotCovered` outside the table."""
        for row in self.rows:
            if row.first <= count and (row.last is None or count <= row.last):
                return row.value
        ends = f"{self.rows[0].first} to {self.rows[-1].last or 'any number'}"
        raise NotCovered(f"The table covers {ends}; it has no row for {count}", cite=cite)


@dataclass(frozen=True, kw_only=True)
class Tiers:
    """Demand by slices: each `(up to, factor)`, the last one open-ended (None)."""

    slices: tuple[tuple[Quantity | None, float], ...]

    def __post_init__(self) -> None:
        ends = [end.m_as(VA) for end, _ in self.slices[:-1] if end is not None]
        if len(ends) != len(self.slices) - 1 or self.slices[-1][0] is not None:
            raise ValueError("only the last slice is open-ended")
        if ends != sorted(set(ends)) or not all(0 < factor <= 1 for _, factor in self.slices):
            raise ValueError("slices must rise and factors lie above 0 and at most 1")

    def taken(self, load: Quantity) -> list[tuple[Quantity, float]]:
        """How much of `load` falls into each slice reached, with the slice's factor."""
        left, start, parts = load.m_as(VA), 0.0, []
        for end, factor in self.slices:
            room = left if end is None else min(left, end.m_as(VA) - start)
            if room > 0:
                parts.append((va(room), factor))
            left -= room
            start += room
        return parts

    def apply(self, load: Quantity) -> tuple[Quantity, str]:
        """The load after demand, and the arithmetic in words."""
        parts = self.taken(load)
        total = va(sum(part.m_as(VA) * factor for part, factor in parts))
        return total, " + ".join(f"{show(part)} × {percent(factor)}" for part, factor in parts)


def load_bands(path: Path, row_value: Callable[[Mapping[str, float]], T]) -> Bands[T]:
    """The rows of a CSV with the columns ``from``, ``to`` (empty: and over) and its own."""
    with path.open(newline="", encoding="utf-8") as file:
        return Bands(rows=tuple(_band(row, row_value) for row in csv.DictReader(file)))


def _band(row: Mapping[str, str], row_value: Callable[[Mapping[str, float]], T]) -> Band[T]:
    numbers = {name: float(text) for name, text in row.items() if text}
    return Band(
        first=int(numbers["from"]),
        last=int(numbers["to"]) if "to" in numbers else None,
        value=row_value(numbers),
    )
