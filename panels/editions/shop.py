"""The values for small shops, edition by edition.

None of them could be read in a printed code: every one says so, and has to be confirmed there.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import replace

from contractor.units import Q, Quantity
from panels.editions.marks import remembered
from panels.editions.read import TABLES, percent_table
from panels.rules.shop.values import ShopLighting, ShopOutlets, ShopRules
from panels.rules.tables import Tiers


def _unit_loads(column: str) -> Mapping[str, Quantity]:
    """VA/ft2 by occupancy; an occupancy the edition does not name is left out."""
    with (TABLES / "occupancies.csv").open(newline="", encoding="utf-8") as file:
        rows = [(row["occupancy"], row[column]) for row in csv.DictReader(file)]
    return {key: Q(float(text), "VA/ft**2") for key, text in rows if text}


SHOP_2017 = ShopRules(
    lighting=ShopLighting(
        unit_loads=remembered(_unit_loads("va_per_ft2_2017"), "220.12, Table 220.12"),
        includes_continuous=remembered(False, "Table 220.12"),
        storage=remembered(
            Tiers(slices=((Q(12_500.0, "VA"), 1.0), (None, 0.50))), "220.42, Table 220.42"
        ),
        storage_kinds=remembered(("warehouse",), "Table 220.42"),
        show_window=remembered(Q(200.0, "VA/ft"), "220.43(A)"),
        track=remembered(Q(150.0, "VA"), "220.43(B)"),
        track_length=remembered(Q(2.0, "ft"), "220.43(B)"),
        sign=remembered(Q(1200.0, "VA"), "220.14(F)"),
        signs_least=remembered(1, "600.5(A)"),
    ),
    outlets=ShopOutlets(
        receptacle=remembered(Q(180.0, "VA"), "220.14(I)"),
        demand=remembered(
            Tiers(slices=((Q(10_000.0, "VA"), 1.0), (None, 0.50))), "220.44, Table 220.44"
        ),
        by_area=remembered(Q(1.0, "VA/ft**2"), "220.14(K)"),
        by_area_kinds=remembered(("bank", "office"), "220.14(K)"),
        multioutlet=remembered(Q(180.0, "VA"), "220.14(H)"),
        multioutlet_length=remembered(Q(5.0, "ft"), "220.14(H)(1)"),
        multioutlet_busy_length=remembered(Q(1.0, "ft"), "220.14(H)(2)"),
    ),
    kitchen=remembered(percent_table("kitchen.csv"), "220.56, Table 220.56"),
    kitchen_largest=remembered(2, "220.56"),
    nonlinear_on_wye=remembered(
        True,
        "220.61(C)(2)",
        "A shop’s lighting and electronics are taken as nonlinear: no reduction on a wye.",
    ),
)

SHOP_2020 = replace(
    SHOP_2017,
    lighting=replace(
        SHOP_2017.lighting,
        unit_loads=remembered(_unit_loads("va_per_ft2_2020"), "220.12, Table 220.12"),
        includes_continuous=remembered(
            True, "Table 220.12", "The unit loads hold the 125 % of a continuous load already."
        ),
    ),
)

SHOP_2023 = replace(
    SHOP_2020,
    lighting=replace(
        SHOP_2020.lighting,
        unit_loads=remembered(_unit_loads("va_per_ft2_2020"), "220.42(A), Table 220.42(A)"),
        includes_continuous=replace(SHOP_2020.lighting.includes_continuous, cite="Table 220.42(A)"),
        storage=remembered(SHOP_2020.lighting.storage.value, "220.45, Table 220.45"),
        storage_kinds=remembered(("warehouse",), "Table 220.45"),
        show_window=remembered(Q(200.0, "VA/ft"), "220.46(A)"),
        track=remembered(Q(150.0, "VA"), "220.46(B)"),
        track_length=remembered(Q(2.0, "ft"), "220.46(B)"),
    ),
    outlets=replace(
        SHOP_2020.outlets,
        demand=remembered(SHOP_2020.outlets.demand.value, "220.47, Table 220.47"),
    ),
)
