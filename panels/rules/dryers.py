"""What do household clothes dryers ask for?"""

from __future__ import annotations

from panels.rules.demand import Demand, at_factor, item
from panels.rules.dwelling import Dwelling, Kind
from panels.rules.edition import Edition
from panels.rules.household import household
from panels.rules.phases import pair
from panels.rules.quantities import VA, show, va
from panels.rules.working import line


def dryer_demand(dwelling: Dwelling, edition: Edition) -> Demand:
    """Each at its nameplate, at least the minimum, times the factor for their number."""
    rule, loads = edition.dryers, dwelling.of(Kind.DRYER)
    if not loads:
        return Demand(key="dryers", label="Clothes dryers")
    least = float(rule.least.value.m_as(VA))
    lines, connected = [], 0.0
    for load in loads:
        each = max(load.one, least)
        note = f"At least {show(va(least))} each." if load.one < least else ""
        lines.append(item(load, rule.least, each=va(each), note=note))
        connected += each * load.count
    count = sum(load.count for load in loads)
    pairing = pair(count, dwelling, rule=rule.three_phase.value)
    factor = rule.factors.value.at(pairing.entered, cite=rule.factors.cite).factor(pairing.entered)
    entered = va(connected / count * pairing.entered)
    between = va(entered.magnitude * factor)
    demand, how = pairing.load(between), pairing.words(at_factor(entered, factor), between)
    lines.append(line("dryers", "Clothes dryers", demand, rule.factors, how=how, total=True))
    return household("dryers", "Clothes dryers", demand, dwelling, edition, lines=lines)
