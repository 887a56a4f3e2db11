"""What load does the optional method give for one dwelling (220.82)?"""

from __future__ import annotations

from collections.abc import Sequence

from contractor.units import Quantity
from panels.rules.demand import Demand, in_proportion, item, total
from panels.rules.dwelling import COOKING, Dwelling, Kind, Load
from panels.rules.edition import Edition
from panels.rules.lighting import connected, lighting_load
from panels.rules.optional_climate import optional_climate
from panels.rules.quantities import show, va
from panels.rules.report import report
from panels.rules.sourced import Sourced
from panels.rules.standard import part_three
from panels.rules.tables import Tiers
from panels.rules.vehicles import managed_demand, rated, vehicle_demand, vehicle_item
from panels.rules.working import Line, Result, line

KEY, TITLE = "optional", "Optional method, one dwelling"
NAMEPLATES = (*COOKING, Kind.DRYER, Kind.WATER_HEATER, Kind.APPLIANCE, Kind.MOTOR, Kind.OTHER)


def objection(dwelling: Dwelling, edition: Edition) -> str | None:
    """Why this method does not apply, or None (220.82(A))."""
    rule, service = edition.optional.least_rating, dwelling.service
    if service.supply.phases != 1:
        return f"It is for a three-wire supply ({rule.cite}); this one has three phases."
    if service.rating is not None and service.rating < rule.value:
        return f"It needs a service or feeder of at least {show(rule.value)} ({rule.cite})."
    return None


def optional(dwelling: Dwelling, edition: Edition) -> Result:
    """The calculated load of one dwelling; its neutral by Part III, as in Annex D, D2(a)."""
    counted = [
        tiered(dwelling, edition, nameplates(dwelling, edition), edition.optional.demand),
        optional_climate(dwelling, edition),
        *outside(dwelling, edition),
    ]
    unbalance = part_three(dwelling, edition)
    return report(KEY, TITLE, dwelling, edition, counted=counted, unbalance=unbalance)


def nameplates(dwelling: Dwelling, edition: Edition) -> list[Load]:
    """The loads counted at their nameplates among the general loads."""
    loads = list(dwelling.of(*NAMEPLATES))
    if edition.vehicles.within_optional_tiers.value:
        loads += [rated(load, edition) for load in dwelling.of(Kind.VEHICLE)]
    return loads


def outside(dwelling: Dwelling, edition: Edition) -> list[Demand]:
    """What is counted in full, outside the tiers of the optional methods."""
    managed, within = managed_demand(dwelling, edition), edition.vehicles.within_optional_tiers
    return [managed] if within.value else [vehicle_demand(dwelling, edition, within), managed]


def tiered(
    dwelling: Dwelling, edition: Edition, loads: Sequence[Load], tiers: Sourced[Tiers]
) -> Demand:
    """Lighting, circuits and all nameplates together, through the tiers."""
    lighting = connected(dwelling, edition)
    load, single = together(lighting_load(lighting), loads)
    demand, how = tiers.value.apply(load)
    label = "General loads"
    lines = [
        *lighting,
        *(nameplate_item(one, edition) for one in loads),
        line("general_connected", f"{label} connected", load),
        line("general", f"{label} after demand", demand, tiers, how=how, total=True),
    ]
    return in_proportion("general", label, demand, single=single, load=load, lines=lines)


def nameplate_item(load: Load, edition: Edition) -> Line:
    """The line of a load among the general loads."""
    if load.kind is Kind.VEHICLE:
        return vehicle_item(load, edition, edition.vehicles.within_optional_tiers)
    return item(load)


def together(lighting: Quantity, loads: Sequence[Load]) -> tuple[Quantity, Quantity]:
    """Lighting and nameplates in all, and of that what is connected to the neutral."""
    load = total(lighting, va(sum(load.all for load in loads)))
    single = total(lighting, va(sum(load.all for load in loads if load.to_neutral)))
    return load, single
