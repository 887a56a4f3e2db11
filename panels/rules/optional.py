"""What load does the optional method give for one dwelling (220.82)?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from contractor.units import Quantity
from panels.rules.demand import item, times, total
from panels.rules.dwelling import COOKING, Dwelling, Kind, Load
from panels.rules.edition import Edition
from panels.rules.lighting import connected, lighting_circuits
from panels.rules.neutral import neutral_section
from panels.rules.optional_climate import optional_climate
from panels.rules.quantities import show, va
from panels.rules.report import report, section_of, topics_of
from panels.rules.service import service_section
from panels.rules.sourced import Sourced
from panels.rules.standard import part_three
from panels.rules.tables import Tiers
from panels.rules.vehicles import managed_demand, rated, vehicle_demand
from panels.rules.working import Result, Section, line

KEY, TITLE = "optional", "Optional method, one dwelling"
GENERAL = (*COOKING, Kind.DRYER, Kind.WATER_HEATER, Kind.APPLIANCE, Kind.MOTOR, Kind.OTHER)


@dataclass(frozen=True, kw_only=True)
class General:
    """The general loads after their tiers, split by how they are connected."""

    to_neutral: Quantity
    between_legs: Quantity
    section: Section


def objection(dwelling: Dwelling, edition: Edition) -> str | None:
    """Why this method does not apply, or None (220.82(A))."""
    rule, service = edition.optional.least_rating, dwelling.service
    if service.supply.phases != 1:
        return f"It is for a three-wire supply ({rule.cite}); this one has three phases."
    if service.rating is not None and service.rating < rule.value:
        return f"It needs a service or feeder of at least {show(rule.value)} ({rule.cite})."
    return None


def general_loads(
    dwelling: Dwelling, edition: Edition, loads: Sequence[Load], tiers: Sourced[Tiers]
) -> General:
    """Lighting, circuits and all nameplates together, through the tiers."""
    lighting = connected(dwelling, edition)
    base = total(*(one.value for one in lighting))  # type: ignore[arg-type]
    single = total(base, va(sum(load.all for load in loads if load.to_neutral)))
    load = total(base, va(sum(load.all for load in loads)))
    demand, how = tiers.value.apply(load)
    part = float((single / load).magnitude) if load.magnitude else 1.0
    lines = [
        *lighting,
        *(item(one) for one in loads),
        line("general_connected", "General loads connected", load),
        line("general", "General loads after demand", demand, tiers, how=how, total=True),
    ]
    return General(
        to_neutral=times(demand, part),
        between_legs=times(demand, 1 - part),
        section=Section(title="General loads", lines=tuple(lines)),
    )


def optional(dwelling: Dwelling, edition: Edition) -> Result:
    """The calculated load of one dwelling; its neutral by Part III, as in Annex D, D2(a)."""
    loads = dwelling.of(*GENERAL)
    vehicles = vehicle_demand(dwelling, edition)
    within = edition.vehicles.within_optional_tiers
    if within.value:
        loads += tuple(rated(load, edition) for load in dwelling.of(Kind.VEHICLE))
    general = general_loads(dwelling, edition, loads, edition.optional.demand)
    outside = [
        optional_climate(dwelling, edition),
        *([] if within.value else [vehicles]),
        managed_demand(dwelling, edition),
    ]
    between = total(general.between_legs, *(demand.between_legs for demand in outside))
    single = total(general.to_neutral, *(demand.to_neutral for demand in outside))
    sections = [
        general.section,
        *(section_of(demand) for demand in outside),
        neutral_section(
            part_three(dwelling, edition), dwelling, edition, load=total(between, single)
        ),
        service_section(dwelling, edition, between_legs=between, to_neutral=single),
        lighting_circuits(dwelling, edition),
    ]
    return report(KEY, TITLE, edition, sections, topics=topics_of(dwelling))
