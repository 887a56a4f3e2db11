"""How do a directory's breakers stand about the bus? The backplate, with its circuits on it."""

from __future__ import annotations

from collections.abc import Iterator

from panels.directory.content import Circuit, Directory
from panels.rules import backplate
from panels.rules.layout import Seat

Part = backplate.Part[Circuit]
Side = backplate.Side[Circuit]
Row = backplate.Row[Circuit]


def rows(directory: Directory) -> list[Row]:
    """Top to bottom, every row of the panel."""
    return backplate.rows(directory.frame, _seated(directory))


def parts(directory: Directory) -> Iterator[tuple[Side, Part]]:
    """Every breaker, half and empty space once, in the order of the space numbers."""
    for side in backplate.sides(directory.frame, _seated(directory)):
        for part in side.parts:
            yield side, part


def _seated(directory: Directory) -> list[tuple[Circuit, Seat]]:
    return [(circuit, directory.seat_of(circuit)) for circuit in directory.circuits]
