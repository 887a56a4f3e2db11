"""What do the conductor tables of an edition say for this size, metal and place?

Nothing is read outside a table: every function raises `NotCovered` where it has no value.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from contractor.units import Q, Quantity
from panels.rules.edition import Edition
from panels.rules.errors import NotCovered
from panels.rules.quantities import AMPERE, show
from panels.rules.wire.sizes import SIZES, Metal, Raceway, Size


class Impedance(NamedTuple):
    """Ohms to neutral per 1000 ft."""

    r: float
    x: float


def ampacity(size: Size, metal: Metal, column: int, edition: Edition) -> Quantity:
    """Amperes of the table at 30 °C, not more than three conductors; `column` 60, 75 or 90 °C."""
    table = edition.wire.carrying.ampacity
    told = f"{size} {metal.label} at {column} °C"
    return Q(float(table.value.at((size, metal, column), told, cite=table.cite)), AMPERE)


def ambient_factor(celsius: float, column: int, edition: Edition) -> float:
    """The factor for an ambient temperature, in the row of the next whole degree."""
    table = edition.wire.carrying.ambient
    row = table.value.at(math.ceil(celsius - 1e-9), cite=table.cite)
    if column not in row:
        raise NotCovered(
            f"Insulation of {column} °C is not for an ambient temperature of {celsius:g} °C",
            cite=table.cite,
        )
    return row[column]


def bundling_factor(conductors: int, edition: Edition) -> float:
    """The factor for so many current-carrying conductors together (1 to 3: none lost)."""
    table = edition.wire.carrying.bundling
    return table.value.at(conductors, cite=table.cite)


def small_limit(size: Size, metal: Metal, edition: Edition) -> Quantity | None:
    """The largest overcurrent device on a small conductor; None for a size without a limit.

    Sizes below the smallest of that metal are refused by the ampacity table.
    """
    limit = edition.wire.carrying.small.value.cells.get((size, metal))
    return None if limit is None else Q(float(limit), AMPERE)


def impedance(size: Size, metal: Metal, raceway: Raceway, edition: Edition) -> Impedance:
    """Resistance and reactance of one conductor at 75 °C, 60 Hz, ohms per 1000 ft."""
    table = edition.wire.falling.impedance
    told = f"{size} {metal.label} in {raceway.label}"
    return Impedance(*table.value.at((size, metal, raceway), told, cite=table.cite))


def resistance(
    size: Size, metal: Metal, edition: Edition, *, solid: bool = False, celsius: float = 75.0
) -> float:
    """Direct-current ohms per 1000 ft at that temperature: R2 = R1 (1 + a (T2 - 75))."""
    table, rise = edition.wire.falling.resistance, edition.wire.falling.temperature.value[metal]
    told = f"{size} {metal.label}, {'solid' if solid else 'stranded'}"
    at_75 = table.value.at((size, metal, solid), told, cite=table.cite)
    return at_75 * (1 + rise * (celsius - 75.0))


def equipment_grounding(device: Quantity, metal: Metal, edition: Edition) -> Size:
    """The equipment grounding conductor for that overcurrent device, before any enlarging."""
    table = edition.wire.grounding.equipment
    amperes = float(device.m_as(AMPERE))
    return table.value.at(amperes, show(device), cite=table.cite)[metal]


def electrode_conductor(
    circular_mils: float, service_metal: Metal, metal: Metal, edition: Edition
) -> Size:
    """The grounding electrode conductor by the area of the largest service conductor (all sets)."""
    table = edition.wire.grounding.electrode
    told = f"{circular_mils / 1000:g} kcmil"
    return table.value[service_metal].at(circular_mils, told, cite=table.cite)[metal]


def dwelling_size(rating: Quantity, metal: Metal, edition: Edition) -> Size | None:
    """The size printed for a dwelling's service of that rating; None where none is printed."""
    row = edition.wire.dwelling.rated.value.get(float(rating.m_as(AMPERE)))
    return row[metal] if row else None


def larger(size: Size) -> tuple[Size, ...]:
    """The sizes above this one that the ampacity table lists, rising."""
    return tuple(each for each in SIZES if each > size)
