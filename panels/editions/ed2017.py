"""NFPA 70-2017: its values for load calculation, each with its section and how it was verified."""

from __future__ import annotations

from contractor.units import Q
from panels.editions.checks import CHECKS_2017
from panels.editions.fault import FAULT_2017
from panels.editions.marks import read_2017 as read
from panels.editions.marks import remembered, summarised
from panels.editions.read import cooking_table, dryer_table, percent_table
from panels.editions.shop import SHOP_2017
from panels.editions.standby import STANDBY_2017
from panels.editions.wire import WIRE_2017
from panels.rules.edition import (
    Appliances,
    Climate,
    Cooking,
    Dryers,
    Edition,
    Existing,
    Lighting,
    Managed,
    Multifamily,
    Neutral,
    Optional,
    Ratings,
    Recorded,
    Vehicles,
)
from panels.rules.tables import Tiers

LIGHTING = Lighting(
    unit_load=read(Q(3.0, "VA/ft**2"), "220.12, Table 220.12"),
    unit_load_for_circuits=read(Q(3.0, "VA/ft**2"), "Table 220.12, 210.11(A)"),
    small_appliance=read(Q(1500.0, "VA"), "220.52(A)"),
    small_appliance_least=read(2, "210.11(C)(1)"),
    laundry=read(Q(1500.0, "VA"), "220.52(B)"),
    demand=read(
        Tiers(slices=((Q(3000.0, "VA"), 1.0), (Q(120_000.0, "VA"), 0.35), (None, 0.25))),
        "Table 220.42",
    ),
)

APPLIANCES = Appliances(
    factor=read(0.75, "220.53"),
    count=read(4, "220.53"),
    least=read(Q(0.0, "VA"), "220.53"),
    least_horsepower=read(0.0, "220.53"),
)

DRYERS = Dryers(
    least=read(Q(5000.0, "VA"), "220.54"),
    factors=read(dryer_table("dryers.csv"), "Table 220.54"),
    three_phase=read(2, "220.54"),
)

COOKING = Cooking(
    table=read(cooking_table("cooking.csv"), "220.55, Table 220.55"),
    over=read(Q(1750.0, "VA"), "220.55"),
    column_a_below=read(Q(3500.0, "VA"), "Table 220.55 column A"),
    column_b_through=read(Q(8750.0, "VA"), "Table 220.55 column B"),
    column_c_through=read(Q(12_000.0, "VA"), "Table 220.55 column C"),
    note_1_through=read(Q(27_000.0, "VA"), "Table 220.55 note 1"),
    note_1_step=read(0.05, "Table 220.55 note 1"),
    note_2=read(Q(12_000.0, "VA"), "Table 220.55 note 2"),
    note_3=read(Q(8750.0, "VA"), "Table 220.55 note 3"),
    note_4=read(2, "Table 220.55 note 4"),
    note_5=remembered(("school",), "Table 220.55 note 5"),
    three_phase=read(2, "220.55"),
    circuit_least=remembered(Q(40.0, "A"), "210.19(A)(3)"),
    circuit_least_from=remembered(Q(8750.0, "VA"), "210.19(A)(3)"),
)

OPTIONAL = Optional(
    least_rating=read(Q(100.0, "A"), "220.82(A)"),
    demand=read(Tiers(slices=((Q(10_000.0, "VA"), 1.0), (None, 0.40))), "220.82(B)"),
    cooling=read(1.0, "220.82(C)(1)"),
    heat_pump=read(1.0, "220.82(C)(2), (3)"),
    supplement=read(0.65, "220.82(C)(3)"),
    few_heaters=read(0.65, "220.82(C)(4)"),
    many_heaters=read(0.40, "220.82(C)(5)"),
    many_from=read(4, "220.82(C)(4), (5)"),
    thermal_storage=read(1.0, "220.82(C)(6)"),
)

EXISTING = Existing(
    demand=read(Tiers(slices=((Q(8000.0, "VA"), 1.0), (None, 0.40))), "220.83"),
    climate=read(1.0, "220.83(B)"),
    untouched_within_tiers=remembered(
        False,
        "220.83(A)",
        "The list does not name heating or cooling that stays as it is. It is counted in full,"
        " outside the tiers; local practice differs.",
    ),
    few_heaters_below=read(4, "220.83(B)"),
)

STANDARD_RATINGS = (
    15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300,
    350, 400, 450, 500, 600, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000,
)  # fmt: skip

ED2017 = Edition(
    key="2017",
    title="NFPA 70-2017",
    basis="Values read in the text of NFPA 70-2017.",
    lighting=LIGHTING,
    appliances=APPLIANCES,
    dryers=DRYERS,
    cooking=COOKING,
    climate=Climate(heating=read(1.0, "220.51"), noncoincident=read(1.0, "220.60")),
    motor_extra=read(0.25, "220.50, 430.24"),
    vehicles=Vehicles(
        least=remembered(
            Q(0.0, "VA"), "220.14(A)", "This edition has no load rule for it: nameplate."
        ),
        if_unknown=remembered(None, "220.14(A)"),
        within_optional_tiers=summarised(
            True,
            "220.82(B)",
            in_="discussions among electricians; no statement of the code",
            note="Counted with the general loads by common reading.",
        ),
    ),
    neutral=Neutral(
        unbalance=read(1.0, "220.61(A)"),
        household=read(0.70, "220.61(B)(1)"),
        above=read(Q(200.0, "A"), "220.61(B)(2)"),
        above_factor=read(0.70, "220.61(B)(2)"),
        reduced_on_wye_three_wire=read(False, "220.61(C)(1)"),
    ),
    managed=Managed(allowed=remembered(False, "750.30")),
    optional=OPTIONAL,
    existing=EXISTING,
    multifamily=Multifamily(
        factors=read(percent_table("multifamily.csv"), "220.84, Table 220.84"),
        least_units=read(3, "220.84(A)"),
        cooking_in_each=read(True, "220.84(A)(2)"),
        climate_in_each=read(True, "220.84(A)(3)"),
        without_cooking=read(Q(8000.0, "VA"), "220.84(A)(2) Exception"),
        two_family_as=read(3, "220.85"),
    ),
    ratings=Ratings(
        standard=read(STANDARD_RATINGS, "240.6(A)"),
        one_family_least=read(Q(100.0, "A"), "230.79(C)"),
        fraction_dropped=remembered(0.5, "220.5(B)"),
    ),
    recorded=Recorded(
        share=read(1.25, "220.87(2)"),
        days=read(365, "220.87(1)"),
        days_by_exception=read(30, "220.87(1) Exception"),
        minutes_by_exception=read(15, "220.87(1) Exception"),
        occupied=read(True, "220.87(1) Exception"),
        source_bars=summarised(
            True,
            "220.87",
            in_="a published reproduction of the section, its edition not stated",
            note="This sentence is not in the text of NFPA 70-2017 that was read; it is kept here"
            " because a meter does not see what a source on the site supplies.",
        ),
    ),
    wire=WIRE_2017,
    fault=FAULT_2017,
    shop=SHOP_2017,
    checks=CHECKS_2017,
    standby=STANDBY_2017,
)
