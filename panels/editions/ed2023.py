"""NFPA 70-2023: what changed from 2020, as far as load calculation needs it."""

from __future__ import annotations

from dataclasses import replace

from contractor.units import Q
from panels.editions.checks import CHECKS_2023
from panels.editions.ed2020 import ED2020
from panels.editions.fault import FAULT_2023
from panels.editions.marks import read, remembered, summarised
from panels.editions.shop import SHOP_2023
from panels.editions.standby import STANDBY_2023
from panels.editions.wire import WIRE_2023

COURSE = "a state-approved continuing-education course on the 2023 code"
GUIDE = "a manufacturer's guide to the 2023 code quoting 220.53 and 220.57"

ED2023 = replace(
    ED2020,
    key="2023",
    title="NFPA 70-2023",
    basis=(
        "The text of this edition was not read in full. Values without a mark are those of"
        " earlier editions; confirm them against the printed code of 2023."
    ),
    lighting=replace(
        ED2020.lighting,
        unit_load=read(Q(3.0, "VA/ft**2"), "220.41", in_=COURSE),
        unit_load_for_circuits=read(Q(3.0, "VA/ft**2"), "220.41, 210.11(A)", in_=COURSE),
        demand=remembered(
            ED2020.lighting.demand.value,
            "Table 220.45",
            "The value is that of 2017; the number of the table is from memory.",
        ),
    ),
    appliances=replace(
        ED2020.appliances,
        least=read(Q(500.0, "VA"), "220.53", in_=GUIDE),
        least_horsepower=read(0.25, "220.53", in_=GUIDE),
    ),
    vehicles=replace(
        ED2020.vehicles,
        least=read(Q(7200.0, "VA"), "220.57", in_=GUIDE),
        if_unknown=read(Q(7200.0, "VA"), "220.57", in_=GUIDE),
    ),
    managed=replace(
        ED2020.managed,
        allowed=summarised(
            True,
            "220.70, 750.30",
            in_=COURSE,
            note="That the section exists was read; its conditions are those of 750.30.",
        ),
    ),
    wire=WIRE_2023,
    fault=FAULT_2023,
    shop=SHOP_2023,
    checks=CHECKS_2023,
    standby=STANDBY_2023,
)
