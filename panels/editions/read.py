"""How are the dense tables beside this file read into values?"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from contractor.units import Q
from panels.rules.edition import CookingBand, DryerBand
from panels.rules.tables import Bands, load_bands

TABLES = Path(__file__).parent / "tables"


def cooking_table(name: str) -> Bands[CookingBand]:
    return load_bands(TABLES / name, _cooking_band)


def dryer_table(name: str) -> Bands[DryerBand]:
    return load_bands(TABLES / name, _dryer_band)


def percent_table(name: str) -> Bands[float]:
    return load_bands(TABLES / name, lambda row: row["percent"] / 100)


def _cooking_band(row: Mapping[str, float]) -> CookingBand:
    return CookingBand(
        a=row["a_percent"] / 100,
        b=row["b_percent"] / 100,
        base=Q(row["c_base_kva"], "kVA").to("VA"),
        each=Q(row["c_each_kva"], "kVA").to("VA"),
    )


def _dryer_band(row: Mapping[str, float]) -> DryerBand:
    return DryerBand(percent=row["percent"], less_each=row["less_each"], above=int(row["above"]))
