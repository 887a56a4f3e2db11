"""NFPA 70-2020: what changed from 2017, as far as load calculation needs it."""

from __future__ import annotations

from dataclasses import replace

from contractor.units import Q
from panels.editions.checks import CHECKS_2020
from panels.editions.ed2017 import ED2017
from panels.editions.fault import FAULT_2020
from panels.editions.marks import read, remembered
from panels.editions.shop import SHOP_2020
from panels.editions.standby import STANDBY_2020
from panels.editions.wire import WIRE_2020

FORUM = "a code forum, topic 2569503"

ED2020 = replace(
    ED2017,
    key="2020",
    title="NFPA 70-2020",
    basis=(
        "The text of this edition was not read in full. Values without a mark are those of"
        " NFPA 70-2017; confirm them against the printed code of 2020."
    ),
    lighting=replace(
        ED2017.lighting,
        unit_load=read(Q(3.0, "VA/ft**2"), "220.14(J)", in_=FORUM),
        unit_load_for_circuits=read(Q(3.0, "VA/ft**2"), "220.14(J), 210.11(A)", in_=FORUM),
    ),
    climate=replace(
        ED2017.climate,
        noncoincident=remembered(
            1.25, "220.60", "A motor load that is not the largest is compared at 125 %."
        ),
    ),
    existing=replace(ED2017.existing, demand=remembered(ED2017.existing.demand.value, "220.83")),
    wire=WIRE_2020,
    fault=FAULT_2020,
    shop=SHOP_2020,
    checks=CHECKS_2020,
    standby=STANDBY_2020,
)
