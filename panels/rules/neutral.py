"""How much current must the neutral of a service or feeder carry?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from contractor.units import Q, Quantity
from panels.rules.demand import Demand, at_factor, current_of, load_of, total
from panels.rules.dwelling import Dwelling, Equipped
from panels.rules.edition import Edition
from panels.rules.quantities import AMPERE, percent, show
from panels.rules.working import Line, Section, line


def neutral_section(
    demands: Sequence[Demand], dwelling: Dwelling, edition: Edition, *, counted: Sequence[Demand]
) -> Section:
    """The maximum unbalance: loads to neutral, cooking and drying at 70 %, in the worse season.

    Loads between legs put nothing on it (220.61). Where it is not recorded on which leg a load
    stands, its whole nameplate is counted; never more than the load `counted` on the legs.
    """
    supply, rule = dwelling.service.supply, edition.neutral.unbalance
    carried = [demand for demand in demands if demand.on_neutral.magnitude > 0]
    lines = [_share(demand, edition) for demand in carried]
    between = total(*(demand.neutral for demand in carried))
    single = total(*(demand.to_neutral for demand in carried),
                   *(demand.idle_neutral for demand in carried))  # fmt: skip
    neutral, load = total(single, between), load_of(counted)
    if neutral > load:
        neutral = load
        lines.append(line("neutral_most", "No more than the calculated load", load, rule))
    lines.append(line("neutral", "Neutral load", neutral, rule, total=True))
    current = min(
        supply.amperes(between_legs=between, to_neutral=single), current_of(counted, supply)
    )
    return Section(title="Neutral", lines=(*lines, *_currents(current, dwelling, edition)))


def _share(demand: Demand, edition: Edition) -> Line:
    how = at_factor(demand.load, demand.neutral_factor) if demand.neutral_rule else ""
    rules = demand.neutral_rule or (edition.neutral.unbalance,)
    share = line(f"neutral_{demand.key}", demand.label, demand.on_neutral, *rules, how=how)
    behind = (one.confirm for one in (share, *demand.lines))  # they may be shown nowhere else
    return replace(share, confirm=" ".join(dict.fromkeys(filter(None, behind))))


def reduced(current: Quantity, dwelling: Equipped, edition: Edition) -> Quantity:
    """The current with the part above 200 A at 70 % (220.61(B)(2)), where that is permitted."""
    rule = edition.neutral
    over = float((current - rule.above.value).m_as(AMPERE))
    withheld = dwelling.service.supply.wye_three_wire and not rule.reduced_on_wye_three_wire.value
    if over <= 0 or withheld:
        return current
    return Q(rule.above.value.m_as(AMPERE) + over * rule.above_factor.value, AMPERE)


def _currents(current: Quantity, dwelling: Dwelling, edition: Edition) -> list[Line]:
    rule, after = edition.neutral, reduced(current, dwelling, edition)
    if after == current:
        return [line("neutral_current", "Neutral current", current, total=True)]
    over = show(current - rule.above.value)
    how = f"{show(rule.above.value)} + {over} × {percent(rule.above_factor.value)}"
    return [
        line("neutral_unreduced", "Neutral current before reduction", current),
        line("neutral_current", "Neutral current", after, rule.above_factor, how=how, total=True),
    ]
