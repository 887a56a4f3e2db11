"""What does an edition of the code have to say before a record can be checked by it?

Shapes only; the values are in `panels/editions/checks.py`.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import TypeAlias

from panels.rules.sourced import Sourced

Applies: TypeAlias = "Sourced[bool]"
Words: TypeAlias = "Sourced[tuple[str, ...]]"


@dataclass(frozen=True, kw_only=True)
class InForce:
    """Each rule by its key: is it part of this edition, and in which section?"""

    dir1_named: Applies
    dir1_distinct: Applies
    dir1_clear: Applies
    dir2: Applies
    dir3: Applies
    dir4: Applies
    dir5: Applies
    ocp1: Applies
    ocp1_bus: Applies
    ocp2: Applies
    ocp3: Applies
    ocp4_main: Applies
    ocp4_rating: Applies
    ocp4_small: Applies
    ocp4_ampacity: Applies
    ocp5: Applies
    load1: Applies
    req1: Applies
    req2: Applies
    req3: Applies
    req4: Applies
    req5: Applies
    mwbc1_origin: Applies
    mwbc1_disconnect: Applies
    mwbc1_loads: Applies
    mwbc1_grouped: Applies
    mwbc1_legs: Applies
    afci: Applies
    gfci: Applies
    gfci_outdoor: Applies
    gfci_equipment: Applies
    gfci_crawl: Applies
    afc1: Applies
    afc2_panel: Applies
    afc2_breaker: Applies
    emd: Applies
    pv1: Applies
    pv2: Applies
    pv3: Applies
    pv4: Applies
    pv5: Applies
    torq: Applies


@dataclass(frozen=True, kw_only=True)
class ArcFault:
    """Dwelling circuits that need arc-fault protection: up to `volts`, of `ratings`, in `rooms`."""

    ratings: Sourced[tuple[int, ...]]
    rooms: Words


@dataclass(frozen=True, kw_only=True)
class GroundFault:
    """Dwelling receptacles that need ground-fault protection, and what else does.

    `most_a` and `outdoor_most_a` None: no limit, or no such rule. `kitchen_all` False: only those
    that serve the counter. `hvac_from`: outdoor heating and cooling equipment counts from that day.
    """

    rooms: Words
    most_volts: Sourced[int]
    most_a: Sourced[int | None]
    kitchen_all: Applies
    outdoor_rooms: Words
    outdoor_most_a: Sourced[int | None]
    hvac_from: Sourced[dt.date | None]
    equipment: Words


@dataclass(frozen=True, kw_only=True)
class Tap:
    """A tap rule: how long its conductors may be (ft) and which part of the device they carry."""

    rule: str
    length_ft: float
    part: float


@dataclass(frozen=True, kw_only=True)
class Busbar:
    """Connected sources: inverter current × `factor`; with the 120 % rule the bus × `stretch`."""

    factor: Sourced[float]
    stretch: Sourced[float]


@dataclass(frozen=True, kw_only=True)
class Required:
    """Circuits every dwelling has: how many and of which rating (A)."""

    rating_a: Sourced[int]
    small_appliance: Sourced[int]
    small_appliance_rooms: Words


@dataclass(frozen=True, kw_only=True)
class Checks:
    """All of it, as one group of an edition."""

    in_force: InForce
    directory_at: Words
    required: Required
    arc_fault: ArcFault
    ground_fault: GroundFault
    taps: Sourced[tuple[Tap, ...]]
    busbar: Busbar
