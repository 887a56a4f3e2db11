"""Heating or cooling by the optional method: which is largest, each at its own factor?"""

from __future__ import annotations

from collections.abc import Sequence

from panels.rules.climate import LABEL, heating
from panels.rules.demand import Demand, Share, item, shared
from panels.rules.dwelling import CLIMATE, Dwelling, Kind, Load
from panels.rules.edition import Edition
from panels.rules.quantities import percent, show, va
from panels.rules.sourced import Sourced
from panels.rules.working import Line, line

Rated = tuple[Share, Sourced[float]]


def separate_heaters(loads: Sequence[Load]) -> int:
    """How many separately controlled units the space heating makes; a central one is one."""
    return sum(load.count if load.controlled_separately else 1 for load in loads)


def optional_climate(dwelling: Dwelling, edition: Edition) -> Demand:
    """The larger of cooling in full and heating at its factors (220.82(C)).

    Heating that can run together (heat pump, supplement, room heaters, storage) is added up.
    """
    loads = dwelling.of(*CLIMATE)
    if not loads:
        return Demand(key="climate", label=LABEL)
    summer, winter = _cooling(dwelling, edition), _heating(dwelling, edition)
    lines = [item(load) for load in loads]
    lines += [_line("cooling", "Cooling", summer)] if summer else []
    lines += [_line("heating", "Heating", winter)] if winter else []
    chosen = [share for share, _ in max(summer, winter, key=_sum)]
    result = shared("climate", LABEL, chosen, lines=())
    lines.append(line("climate", f"{LABEL}, the larger", result.load, total=True))
    return shared("climate", LABEL, chosen, lines=lines)


def _cooling(dwelling: Dwelling, edition: Edition) -> list[Rated]:
    rule = edition.optional
    return [
        *_at(dwelling.of(Kind.COOLING), rule.cooling),
        *_at(dwelling.of(Kind.HEAT_PUMP), rule.heat_pump),
    ]


def _heating(dwelling: Dwelling, edition: Edition) -> list[Rated]:
    rule, heaters = edition.optional, dwelling.of(Kind.HEATING)
    many = separate_heaters(heaters) >= rule.many_from.value
    return [
        *_at([load for load in heating(dwelling) if load.kind is Kind.HEAT_PUMP], rule.heat_pump),
        *_at(dwelling.of(Kind.SUPPLEMENT), rule.supplement),
        *_at(heaters, rule.many_heaters if many else rule.few_heaters),
        *_at(dwelling.of(Kind.THERMAL_STORAGE), rule.thermal_storage),
    ]


def _at(loads: Sequence[Load], rule: Sourced[float]) -> list[Rated]:
    return [(Share(load=load, factor=rule.value), rule) for load in loads]


def _sum(rated: Sequence[Rated]) -> float:
    return sum(share.va for share, _ in rated)


def _line(key: str, label: str, rated: Sequence[Rated]) -> Line:
    how = " + ".join(f"{show(va(s.load.all))} × {percent(s.factor)}" for s, _ in rated)
    return line(key, label, va(_sum(rated)), *(rule for _, rule in rated), how=how)
