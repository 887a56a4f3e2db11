"""How are the conductor tables beside this file read into values?"""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping

from panels.editions.read import TABLES
from panels.rules.tables import Bands, load_bands
from panels.rules.wire.edition import BySize, Cells, Column, Steps
from panels.rules.wire.sizes import GAUGES, Metal, Raceway, Size, size_of

COLUMNS = (60, 75, 90)


def _rows(name: str) -> Iterator[dict[str, str]]:
    with (TABLES / name).open(newline="", encoding="utf-8") as file:
        yield from csv.DictReader(file)


def ampacity_table() -> Cells[Column, int]:
    """Amperes by size, metal and column in degrees Celsius."""
    return Cells(
        cells={
            (size_of(row["size"]), metal, column): int(row[f"{metal}{column}"])
            for row in _rows("ampacity.csv")
            for metal in Metal
            for column in COLUMNS
            if row[f"{metal}{column}"]
        }
    )


def ambient_table() -> Bands[Mapping[int, float]]:
    """Factors by ambient temperature in whole degrees Celsius and by column."""
    return load_bands(
        TABLES / "ambient.csv",
        lambda row: {column: row[f"c{column}"] for column in COLUMNS if f"c{column}" in row},
    )


def impedance_table() -> Cells[tuple[Size, Metal, Raceway], tuple[float, float]]:
    """Resistance and reactance, ohms to neutral per 1000 ft; the reactance is of the raceway."""
    return Cells(
        cells={
            (size_of(row["size"]), metal, raceway): (
                float(row[f"{metal}_{raceway}"]),
                float(row["x_steel" if raceway is Raceway.STEEL else "x_pvc_al"]),
            )
            for row in _rows("impedance.csv")
            for metal in Metal
            for raceway in Raceway
            if row[f"{metal}_{raceway}"]
        }
    )


def resistance_table() -> Cells[tuple[Size, Metal, bool], float]:
    """Direct-current ohms per 1000 ft by size, metal and whether it is solid."""
    return Cells(
        cells={
            (size_of(row["size"]), metal, solid): float(text)
            for row in _rows("resistance.csv")
            for metal in Metal
            for solid in (False, True)
            if (text := row[f"{metal}_solid" if solid else metal])
        }
    )


def small_limits(**amperes: Mapping[str, int]) -> Cells[BySize, int]:
    """The largest overcurrent device by metal and size: ``cu={"14": 15}``."""
    return Cells(
        cells={
            (size_of(size), Metal(metal)): limit
            for metal, sizes in amperes.items()
            for size, limit in sizes.items()
        }
    )


def sizes(cu: str, al: str) -> Mapping[Metal, Size]:
    return {Metal.COPPER: size_of(cu), Metal.ALUMINIUM: size_of(al)}


def equipment_grounding_table() -> Steps[Mapping[Metal, Size]]:
    """The conductor by the rating of the overcurrent device, amperes."""
    return Steps(
        rows=tuple(
            (float(row["through_a"]), sizes(row["cu"], row["al"]))
            for row in _rows("equipment_grounding.csv")
        )
    )


def electrode_table() -> Mapping[Metal, Steps[Mapping[Metal, Size]]]:
    """The conductor by the area of the service conductors in circular mils, for each metal."""
    rows = list(_rows("grounding_electrode.csv"))
    return {
        metal: Steps(
            rows=tuple(
                (_area(row[f"{metal}_through"]), sizes(row["cu"], row["al"])) for row in rows
            )
        )
        for metal in Metal
    }


def _area(name: str) -> float | None:
    """Circular mils of a limit, which need not be a size that is made; empty: no limit."""
    return float(GAUGES.get(name) or int(name) * 1000) if name else None


def dwelling_table() -> Mapping[float, Mapping[Metal, Size]]:
    """The conductors printed for each rating, amperes."""
    return {
        float(row["rating_a"]): sizes(row["cu"], row["al"])
        for row in _rows("dwelling_conductors.csv")
    }
