"""What does vehicle supply equipment ask for, and loads held down by energy management?"""

from __future__ import annotations

from dataclasses import replace

from panels.rules.demand import Demand, Share, item, shared
from panels.rules.dwelling import Equipped, Kind, Load
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.quantities import VA, show, va
from panels.rules.sourced import Sourced
from panels.rules.working import Line, line

CONTINUOUS = "A continuous load: its overcurrent device and conductors at 125 % (625.42, 215.3)."


def rated(load: Load, edition: Edition) -> Load:
    """Vehicle supply equipment at what the edition counts it with; other loads unchanged."""
    if load.kind is not Kind.VEHICLE:
        return load
    rule = edition.vehicles
    apparent = rule.if_unknown.value if load.apparent is None else load.apparent
    if apparent is None:
        raise BadDescription(
            "nameplate", f"{load.name}: the {edition.title} has no value for an unknown nameplate."
        )
    least = rule.least.value
    if apparent < least:
        return replace(load, apparent=least, current=None)
    return replace(load, apparent=apparent)


def vehicle_item(load: Load, edition: Edition, *sources: Sourced[bool]) -> Line:
    """The line of vehicle supply equipment that is counted as `rated` says."""
    rule = edition.vehicles
    unknown = (rule.if_unknown,) if load.apparent == rule.if_unknown.value else ()
    return item(load, rule.least, *unknown, *sources, note=CONTINUOUS)


def vehicle_demand(dwelling: Equipped, edition: Edition, *sources: Sourced[bool]) -> Demand:
    """Each at its nameplate, at least the edition's minimum, in full."""
    loads = [rated(load, edition) for load in dwelling.of(Kind.VEHICLE)]
    rule, label = edition.vehicles, "Vehicle supply equipment"
    lines = [vehicle_item(load, edition) for load in loads]
    if loads:
        full = va(sum(load.all for load in loads))
        lines.append(line("vehicles", label, full, rule.least, *sources, total=True))
    return shared("vehicles", label, [Share(load=load) for load in loads], lines=lines)


def managed_demand(dwelling: Equipped, edition: Edition) -> Demand:
    """The set point of an energy management system in place of the loads it holds down."""
    label = "Loads under energy management"
    if dwelling.managed_at is None:
        return Demand(key="managed", label=label)
    rule = edition.managed.allowed
    if not rule.value:
        raise NotCovered(
            f"{edition.title} has no rule that lets a set point stand for the loads under energy"
            " management. Count them in full, or ask the authority",
            cite=rule.cite,
        )
    loads = [rated(load, edition) for load in dwelling.managed]
    connected = sum(load.all for load in loads)
    taken = min(connected, float(dwelling.managed_at.m_as(VA)))
    single = min(taken, sum(load.all for load in loads if load.to_neutral))
    how = f"connected {show(va(connected))}, set point {show(dwelling.managed_at)}"
    lines = [
        vehicle_item(load, edition) if load.kind is Kind.VEHICLE else item(load) for load in loads
    ]
    lines.append(line("managed", label, va(taken), rule, how=how, total=True))
    return Demand(
        key="managed",
        label=label,
        to_neutral=va(single),
        between_legs=va(taken - single),
        lines=tuple(lines),
    )
