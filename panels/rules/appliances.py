"""What do appliances fastened in place ask for, and other loads taken at their nameplate?"""

from __future__ import annotations

from panels.rules.demand import Demand, Share, at_factor, item, shared
from panels.rules.dwelling import COOKING, Dwelling, Kind, Load
from panels.rules.edition import Edition
from panels.rules.quantities import VA, va
from panels.rules.working import line


def fastened(dwelling: Dwelling, edition: Edition) -> tuple[Load, ...]:
    """Appliances fastened in place; cooking too small for the cooking table is among them."""
    small = (load for load in dwelling.of(*COOKING) if is_small_cooking(load, edition))
    return (*dwelling.of(Kind.WATER_HEATER, Kind.APPLIANCE), *small)


def is_small_cooking(load: Load, edition: Edition) -> bool:
    """A cooking appliance the cooking table does not reach down to."""
    return load.one <= float(edition.cooking.over.value.m_as(VA))


def counts(load: Load, edition: Edition) -> bool:
    """Whether an appliance is large enough to be counted for the reduction."""
    rule = edition.appliances
    strong = (load.horsepower or 0.0) >= rule.least_horsepower.value > 0
    return strong or load.one >= float(rule.least.value.m_as(VA))


def appliance_demand(dwelling: Dwelling, edition: Edition) -> Demand:
    """Nameplates in full, or at the factor where enough of them are fastened in place."""
    rule, loads = edition.appliances, fastened(dwelling, edition)
    number = sum(load.count for load in loads if counts(load, edition))
    factor = rule.factor.value if number >= rule.count.value else 1.0
    shares = [Share(load=load, factor=factor if counts(load, edition) else 1.0) for load in loads]
    lines = [item(load) for load in loads]
    if loads:
        connected = va(sum(load.all for load in loads))
        after = va(sum(share.va for share in shares))
        lines.append(
            line(
                "appliances",
                "Appliances fastened in place",
                after,
                rule.factor,
                rule.least,
                how=at_factor(connected, factor) if len(set(map(_factor, shares))) == 1 else "",
                note=f"{number} counted; {rule.count.value} or more are reduced.",
                total=True,
            )
        )
    return shared("appliances", "Appliances fastened in place", shares, lines=lines)


def _factor(share: Share) -> float:
    return share.factor


def full_demand(dwelling: Dwelling) -> Demand:
    """Motors and other loads, at their nameplates."""
    loads = dwelling.of(Kind.MOTOR, Kind.OTHER)
    lines = [item(load) for load in loads]
    if loads:
        full = va(sum(load.all for load in loads))
        lines.append(line("others", "Motors and other loads", full, total=True))
    return shared(
        "others", "Motors and other loads", [Share(load=load) for load in loads], lines=lines
    )
