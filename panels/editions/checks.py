"""What does each edition ask of a panel and its record, in which section, and how is that known?"""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

from panels.editions.marks import read, remembered, summarised
from panels.editions.marks import read_2017 as in_2017
from panels.rules.check.values import (
    ArcFault,
    Busbar,
    Checks,
    GroundFault,
    InForce,
    Required,
    Tap,
)
from panels.rules.edition import each
from panels.rules.rooms import Room
from panels.rules.sourced import Mark, Sourced

COURSE_2020 = "a state-approved continuing-education course on the 2020 code"
COURSE_2023 = "a state-approved continuing-education course on the 2023 code"
COURSE_2026 = "a state-approved continuing-education course on the 2026 code"
TRADE_2020 = "trade magazines on the 2020 changes"
TRADE_2023 = "a manufacturer's page on the 2023 code and a code forum"
BY_ROOM = (
    "Sinks, tubs and showers within 6 ft count too, in any room; this record does not know them."
)
NO_SOURCE = "common practice, no source"

LIVING = (
    Room.KITCHEN, Room.FAMILY, Room.DINING, Room.LIVING, Room.LIBRARY, Room.BEDROOM, Room.SUNROOM,
    Room.RECREATION, Room.CLOSET, Room.HALLWAY, Room.LAUNDRY,
)  # fmt: skip
WET_2017 = (
    Room.BATHROOM, Room.GARAGE, Room.ACCESSORY, Room.OUTDOORS, Room.CRAWL_SPACE, Room.BASEMENT,
    Room.KITCHEN, Room.BOATHOUSE, Room.LAUNDRY,
)  # fmt: skip

IN_FORCE_2017 = InForce(
    dir1_named=in_2017(True, "408.4(A)"),
    dir1_distinct=in_2017(True, "408.4(A)"),
    dir1_clear=in_2017(True, "408.4(A)"),
    dir2=in_2017(True, "408.4(A)"),
    dir3=in_2017(True, "408.4(A)"),
    dir4=in_2017(True, "408.4(A)"),
    dir5=in_2017(True, "408.4(B)"),
    ocp1=in_2017(True, "408.36"),
    ocp1_bus=read(True, NO_SOURCE, in_="common practice"),
    ocp2=in_2017(True, "408.30"),
    ocp3=in_2017(True, "408.36(B)"),
    ocp4_main=in_2017(True, "240.6(A)"),
    ocp4_rating=in_2017(True, "240.6(A)"),
    ocp4_small=in_2017(True, "240.4(D)"),
    ocp4_ampacity=in_2017(True, "240.4"),
    ocp5=in_2017(True, "240.21"),
    load1=in_2017(True, "210.20(A), 215.3, 230.42"),
    req1=in_2017(True, "210.11(C)(1)"),
    req2=in_2017(True, "210.11(C)(2)"),
    req3=in_2017(True, "210.11(C)(3)"),
    req4=in_2017(True, "210.11(C)(4)"),
    req5=in_2017(True, "230.79(C)"),
    mwbc1_origin=in_2017(True, "210.4(A)"),
    mwbc1_disconnect=in_2017(True, "210.4(B)"),
    mwbc1_loads=in_2017(True, "210.4(C)"),
    mwbc1_grouped=in_2017(True, "210.4(D)"),
    mwbc1_legs=in_2017(True, "Article 100, multiwire branch circuit"),
    afci=in_2017(True, "210.12(A)"),
    gfci=in_2017(True, "210.8(A)", note=BY_ROOM),
    gfci_outdoor=in_2017(False, "210.8"),
    gfci_equipment=in_2017(True, "210.8(C), (D)"),
    gfci_crawl=in_2017(True, "210.8(E)"),
    afc1=in_2017(True, "110.24(A), (B)"),
    afc2_panel=in_2017(True, "110.9, 110.10"),
    afc2_breaker=in_2017(True, "110.9"),
    emd=in_2017(False, "230.70"),
    pv1=in_2017(True, "705.12(B)(2)(3)(a)"),
    pv2=in_2017(True, "705.12(B)(2)(3)(b)"),
    pv3=in_2017(True, "705.12(B)(2)(3)(c)"),
    pv4=in_2017(True, "705.12(B)(2)(3)(d)"),
    pv5=in_2017(True, "705.12(A)"),
    torq=in_2017(True, "110.14(D)"),
)

CHECKS_2017 = Checks(
    in_force=IN_FORCE_2017,
    directory_at=in_2017(("door", "face", "cover", "inside"), "408.4(A)"),
    required=Required(
        rating_a=in_2017(20, "210.11(C)"),
        small_appliance=in_2017(2, "210.11(C)(1)"),
        small_appliance_rooms=in_2017((Room.KITCHEN, Room.DINING), "210.52(B)(1)"),
    ),
    arc_fault=ArcFault(ratings=in_2017((15, 20), "210.12(A)"), rooms=in_2017(LIVING, "210.12(A)")),
    ground_fault=GroundFault(
        rooms=in_2017(WET_2017, "210.8(A)"),
        most_volts=in_2017(125, "210.8(A)"),
        most_a=in_2017(20, "210.8(A)"),
        kitchen_all=in_2017(False, "210.8(A)(6)"),
        outdoor_rooms=in_2017((), "210.8"),
        outdoor_most_a=in_2017(None, "210.8"),
        hvac_from=in_2017(None, "210.8"),
        equipment=in_2017(("dishwasher", "boat hoist"), "210.8(C), (D)"),
    ),
    taps=remembered(
        (
            Tap(rule="10ft", length_ft=10, part=1 / 10),
            Tap(rule="25ft", length_ft=25, part=1 / 3),
        ),
        "240.21(B)(1), (2)",
    ),
    busbar=Busbar(
        factor=in_2017(1.25, "705.12(B)(2)(3)"), stretch=in_2017(1.2, "705.12(B)(2)(3)(b)")
    ),
)


def _carried(sourced: Sourced[Any]) -> Sourced[Any]:
    """A rule of 2017 whose text in the later edition nobody here has read."""
    if sourced.mark is not Mark.READ_2017:
        return sourced
    told = "Section and value as in NFPA 70-2017; the text of this edition was not read."
    return replace(sourced, note=f"{sourced.note} {told}".strip())


def _moved(sourced: Sourced[Any], cite: str) -> Sourced[Any]:
    """The same rule under a number that is from memory."""
    return replace(sourced, cite=cite, mark=Mark.MEMORY, note="The section number is from memory.")


_2020 = each(CHECKS_2017, _carried)
CHECKS_2020 = replace(
    _2020,
    in_force=replace(
        _2020.in_force,
        gfci=read(True, "210.8(A)", in_=TRADE_2020, note=BY_ROOM),
        gfci_outdoor=read(True, "210.8(F)", in_=TRADE_2020),
        gfci_equipment=_moved(_2020.in_force.gfci_equipment, "210.8(C), (D)"),
        gfci_crawl=_moved(_2020.in_force.gfci_crawl, "210.8(E)"),
        afc2_panel=read(True, "110.9, 110.10, 408.6", in_=COURSE_2020),
        emd=read(True, "230.85", in_=COURSE_2020),
        pv1=read(True, "705.12(B)(3)(1)", in_=COURSE_2020),
        pv2=_moved(_2020.in_force.pv2, "705.12(B)(3)(2)"),
        pv3=_moved(_2020.in_force.pv3, "705.12(B)(3)(3)"),
        pv4=_moved(_2020.in_force.pv4, "705.12(B)(3)(4)"),
        pv5=_moved(_2020.in_force.pv5, "705.11"),
        torq=remembered(True, "110.14(D)", "“Approved means” in place of a calibrated tool."),
    ),
    busbar=replace(
        _2020.busbar,
        factor=_moved(_2020.busbar.factor, "705.12(B)(3)"),
        stretch=_moved(_2020.busbar.stretch, "705.12(B)(3)(2)"),
    ),
    directory_at=read(
        (*_2020.directory_at.value, "adjacent", "beside", "next to"), "408.4(A)", in_=COURSE_2023
    ),
    ground_fault=replace(
        _2020.ground_fault,
        rooms=read((*WET_2017, Room.BASEMENT_FINISHED), "210.8(A)", in_=TRADE_2020),
        most_volts=read(250, "210.8(A)", in_=TRADE_2020),
        most_a=read(None, "210.8(A)", in_=TRADE_2020),
        outdoor_rooms=read((Room.OUTDOORS,), "210.8(F)", in_=TRADE_2020),
        outdoor_most_a=read(50, "210.8(F)", in_=TRADE_2020),
        hvac_from=remembered(dt.date(2026, 9, 1), "210.8(F) as amended"),
    ),
)

CHECKS_2023 = replace(
    CHECKS_2020,
    in_force=replace(
        CHECKS_2020.in_force,
        dir4=read(True, "408.4(A)", in_=COURSE_2023),
        afci=read(True, "210.12(B)", in_=COURSE_2023),
        pv1=_moved(CHECKS_2020.in_force.pv1, "705.12(B)(1)"),
        pv2=_moved(CHECKS_2020.in_force.pv2, "705.12(B)(2)"),
        pv3=_moved(CHECKS_2020.in_force.pv3, "705.12(B)(3)"),
        pv4=_moved(CHECKS_2020.in_force.pv4, "705.12(B)(4)"),
    ),
    busbar=replace(
        CHECKS_2020.busbar,
        factor=_moved(CHECKS_2020.busbar.factor, "705.12(B)"),
        stretch=_moved(CHECKS_2020.busbar.stretch, "705.12(B)(2)"),
    ),
    arc_fault=ArcFault(
        ratings=read((10, 15, 20), "210.12(B)", in_=COURSE_2023),
        rooms=read(LIVING, "210.12(B)", in_=COURSE_2023),
    ),
    ground_fault=replace(
        CHECKS_2020.ground_fault,
        kitchen_all=read(True, "210.8(A)(6)", in_=TRADE_2023),
        outdoor_rooms=read(
            (Room.OUTDOORS, Room.GARAGE, Room.ACCESSORY, Room.BOATHOUSE),
            "210.8(F)",
            in_=TRADE_2023,
        ),
        hvac_from=read(dt.date(2026, 9, 1), "210.8(F) Exception", in_=TRADE_2023),
    ),
)

CHECKS_2026 = replace(
    CHECKS_2023,
    in_force=replace(
        CHECKS_2023.in_force,
        afci=summarised(True, "210.12(B)", in_=COURSE_2026, note="The list itself was not seen."),
        gfci_outdoor=read(True, "210.8(F)", in_=COURSE_2026),
        emd=read(True, "230.70(A)(1)", in_=COURSE_2026),
    ),
    ground_fault=replace(
        CHECKS_2023.ground_fault,
        outdoor_most_a=read(60, "210.8(F)", in_=COURSE_2026),
        hvac_from=replace(
            CHECKS_2023.ground_fault.hvac_from,
            note="Some states have put it off since: ask the authority.",
        ),
    ),
)
