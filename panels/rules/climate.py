"""Heating or cooling: which of the two counts, and with how much?"""

from __future__ import annotations

from panels.rules.demand import Demand, Share, item, shared
from panels.rules.dwelling import CLIMATE, HEATING_KINDS, Dwelling, Kind, Load
from panels.rules.edition import Edition
from panels.rules.quantities import percent, show, va
from panels.rules.working import line

LABEL = "Heating or cooling"


def heating(dwelling: Dwelling) -> tuple[Load, ...]:
    """What runs in winter; a compressor locked out by the supplement does not."""
    supplement = bool(dwelling.of(Kind.SUPPLEMENT))
    pumps = dwelling.of(Kind.HEAT_PUMP)
    running = (pump for pump in pumps if not (pump.locked_out and supplement))
    return (*dwelling.of(*HEATING_KINDS), *running)


def cooling(dwelling: Dwelling) -> tuple[Load, ...]:
    """What runs in summer; a heat pump cools too."""
    return dwelling.of(Kind.COOLING, Kind.HEAT_PUMP)


def climate_demand(dwelling: Dwelling, edition: Edition) -> Demand:
    """The larger of heating and cooling, which do not run together (220.51, 220.60)."""
    loads = dwelling.of(*CLIMATE)
    if not loads:
        return Demand(key="climate", label=LABEL)
    rule = edition.climate
    winter = [Share(load=load, factor=rule.heating.value) for load in heating(dwelling)]
    summer = [Share(load=load) for load in cooling(dwelling)]
    cold, warm = _sum(winter), _sum(summer)
    raised = warm * rule.noncoincident.value
    chosen, note = (winter, "Heating is larger.") if cold > warm else (summer, "Cooling is larger.")
    if warm < cold < raised:
        factor = rule.noncoincident.value
        chosen = [Share(load=load, factor=factor) for load in cooling(dwelling)]
        note = f"Cooling at {percent(factor)} is larger."
    lines = [item(load) for load in loads]
    how = f"heating {show(va(cold))}, cooling {show(va(warm))}"
    result = shared("climate", LABEL, chosen, lines=())
    lines.append(
        line("climate", LABEL, result.load, rule.heating, rule.noncoincident, how=how, note=note,
             total=True)
    )  # fmt: skip
    return shared("climate", LABEL, chosen, lines=lines)


def _sum(shares: list[Share]) -> float:
    return sum(share.va for share in shares)
