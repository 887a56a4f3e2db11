"""What do general lighting, small-appliance and laundry circuits ask for in a dwelling?"""

from __future__ import annotations

import math
from collections.abc import Iterable

from contractor.units import Q, Quantity, ureg
from panels.rules.demand import Demand, times, total
from panels.rules.dwelling import Dwelling
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription
from panels.rules.quantities import AMPERE, SQUARE_FOOT, VA, VOLT, show, va
from panels.rules.working import Line, Section, line

CIRCUIT_RATINGS = (15, 20)


def connected(dwelling: Dwelling, edition: Edition) -> list[Line]:
    """The connected lines: floor area at the unit load, each circuit at its VA."""
    rule = edition.lighting
    least = rule.small_appliance_least.value * dwelling.units
    if dwelling.small_appliance_circuits < least:
        raise BadDescription(
            "small_appliance_circuits",
            f"Count at least {least} ({rule.small_appliance_least.cite});"
            f" {dwelling.small_appliance_circuits} given.",
        )
    area = dwelling.floor_area.to(SQUARE_FOOT)
    lines = [
        line(
            "lighting",
            "General lighting",
            va(area.m_as(SQUARE_FOOT) * rule.unit_load.value.m_as("VA/ft**2")),
            rule.unit_load,
            how=f"{show(area)} × {show(rule.unit_load.value)}",
        )
    ]
    for key, label, count, each in (
        ("small_appliance", "Small-appliance circuits", dwelling.small_appliance_circuits,
         rule.small_appliance),
        ("laundry", "Laundry circuits", dwelling.laundry_circuits, rule.laundry),
    ):  # fmt: skip
        if count:
            value, how = times(each.value, count), f"{count} × {show(each.value)}"
            lines.append(line(key, label, value, each, how=how))
    return lines


def lighting_load(lines: Iterable[Line]) -> Quantity:
    """The sum of the connected lines."""
    return total(*(one.value for one in lines if isinstance(one.value, ureg.Quantity)))


def lighting_demand(dwelling: Dwelling, edition: Edition) -> Demand:
    """Lighting, small-appliance and laundry load after the demand tiers; all of it to neutral."""
    lines = connected(dwelling, edition)
    load = lighting_load(lines)
    tiers = edition.lighting.demand
    demand, how = tiers.value.apply(load)
    label = "Lighting, small appliances and laundry"
    lines.append(line("lighting_connected", "Connected", load))
    lines.append(
        line("lighting_demand", f"{label} after demand", demand, tiers, how=how, total=True)
    )
    return Demand(key="lighting_demand", label=label, to_neutral=demand, lines=tuple(lines))


def lighting_circuits(dwelling: Dwelling, edition: Edition) -> Section:
    """The least number of general lighting circuits, at 15 A and at 20 A (210.11(A))."""
    unit, volts = edition.lighting.unit_load_for_circuits, dwelling.service.supply.to_neutral
    load = dwelling.floor_area.m_as(SQUARE_FOOT) * unit.value.m_as("VA/ft**2")
    current = Q(load / volts.m_as(VOLT), AMPERE)
    lines = [
        line(
            "lighting_current",
            "General lighting current",
            current,
            unit,
            how=f"{show(Q(load, VA))} ÷ {show(volts)}",
        )
    ]
    for rating in CIRCUIT_RATINGS:
        count = math.ceil(current.m_as(AMPERE) / rating - 1e-9)
        how = f"{show(current)} ÷ {rating} A, rounded up"
        lines.append(
            line(f"circuits_{rating}", f"{rating} A circuits at least", count, unit, how=how)
        )
    return Section(title="General lighting branch circuits", lines=tuple(lines))
