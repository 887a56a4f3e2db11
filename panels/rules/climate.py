"""Heating or cooling: which of the two counts, and with how much?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from panels.rules.demand import Demand, Share, item, shared
from panels.rules.dwelling import CLIMATE, HEATING_KINDS, Equipped, Kind, Load
from panels.rules.edition import Edition
from panels.rules.quantities import percent, show, va
from panels.rules.working import line

LABEL = "Heating or cooling"


def heating(dwelling: Equipped) -> tuple[Load, ...]:
    """What runs in winter; a compressor locked out by the supplement does not."""
    supplement = bool(dwelling.of(Kind.SUPPLEMENT))
    pumps = dwelling.of(Kind.HEAT_PUMP)
    running = (pump for pump in pumps if not (pump.locked_out and supplement))
    return (*dwelling.of(*HEATING_KINDS), *running)


def cooling(dwelling: Equipped) -> tuple[Load, ...]:
    """What runs in summer; a heat pump cools too."""
    return dwelling.of(Kind.COOLING, Kind.HEAT_PUMP)


def climate_demand(dwelling: Equipped, edition: Edition, *, beside: float = 0.0) -> Demand:
    """The larger of heating and cooling, which do not run together (220.51, 220.60).

    Each season counts with what it adds as the largest motor; `beside` is the largest motor
    (VA) that runs in both. Where an edition compares a smaller cooling load at 125 %, that
    counts if it is the largest.
    """
    loads = dwelling.of(*CLIMATE)
    if not loads:
        return Demand(key="climate", label=LABEL)
    rule, extra = edition.climate, edition.motor_extra.value
    winter = [Share(load=load, factor=rule.heating.value) for load in heating(dwelling)]
    summer = [Share(load=load) for load in cooling(dwelling)]
    choices = {"Heating is larger.": winter, "Cooling is larger.": summer}
    raise_to = rule.noncoincident.value
    if raise_to > 1 and _sum(summer) < _sum(winter):
        raised = [Share(load=load, factor=raise_to) for load in cooling(dwelling)]
        choices[f"Cooling at {percent(raise_to)} is larger."] = raised
    note = max(choices, key=lambda name: _with_motor(choices[name], beside, extra))
    chosen, other = choices[note], summer if choices[note] is winter else winter
    result = shared("climate", LABEL, chosen, lines=())
    how = f"heating {show(va(_sum(winter)))}, cooling {show(va(_sum(summer)))}"
    sources = (rule.heating, rule.noncoincident) if winter and summer else (rule.heating,)
    largest = line("climate", LABEL, result.load, *sources, how=how, note=note, total=True)
    return replace(
        result,
        lines=(*(item(load) for load in loads), largest),
        off_season=tuple(other),
        idle_neutral=va(max(0.0, _single(other) - _single(chosen))),
    )


def _with_motor(shares: Sequence[Share], beside: float, extra: float) -> float:
    """A season's load with the quarter of the largest motor running in it."""
    driven = [share.load.one for share in shares if share.load.driven and share.factor <= 1]
    return _sum(shares) + extra * max([beside, *driven])


def _sum(shares: Sequence[Share]) -> float:
    return sum(share.va for share in shares)


def _single(shares: Sequence[Share]) -> float:
    """What of a season's load is connected to the neutral; the neutral meets both seasons."""
    return sum(share.va for share in shares if share.load.to_neutral)
