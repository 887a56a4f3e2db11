"""Which current, neutral and rating does a shop's load ask for?"""

from __future__ import annotations

import math
from collections.abc import Sequence

from contractor.units import Q, Quantity
from panels.rules.demand import Demand, total
from panels.rules.edition import Edition
from panels.rules.layout import System
from panels.rules.neutral import reduced
from panels.rules.quantities import AMPERE, VA, VOLT, show
from panels.rules.service import left_line, rating_line
from panels.rules.shop.pieces import NOTHING, Piece
from panels.rules.shop.premises import Shop
from panels.rules.supply import Supply
from panels.rules.working import Line, Section, line

HIGH_LEG = (
    "Single-phase loads stand between the two legs beside the neutral; their current is added to"
    " that of the three-phase loads as it stands, which is on the safe side."
)


def amperes(supply: Supply, *, single: Quantity, three: Quantity) -> Quantity:
    """The current of the fullest leg.

    On a wye and on three wires the single-phase loads are spread evenly. On a delta with a high
    leg they stand between the other two.
    """
    if supply.system is not System.DELTA_240:
        return supply.amperes(between_legs=total(single, three), to_neutral=NOTHING)
    volts = float(supply.line.m_as(VOLT))
    return Q(single.m_as(VA) / volts + three.m_as(VA) / (math.sqrt(3) * volts), AMPERE)


def service_section(pieces: Sequence[Piece], shop: Shop, edition: Edition) -> Section:
    """The load; its current; both with continuous loads at 125 %; the rating that carries them."""
    supply, rule = shop.service.supply, edition.wire.carrying.continuous
    load = total(*(piece.demand.load for piece in pieces))
    three = total(*(piece.three_phase for piece in pieces))
    extra = total(*(piece.extra for piece in pieces))
    current = amperes(supply, single=load - three, three=three)
    needed = amperes(supply, single=load - three + extra, three=three)
    note = HIGH_LEG if supply.system is System.DELTA_240 else ""
    lines = [
        line("load", "Calculated load", load, total=True),
        line("current", "Current per leg", current, how=supply.system.label, note=note, total=True),
    ]
    if supply.system is System.DELTA_240:
        lines.append(line("high_leg", "Current of the high leg",
                          amperes(supply, single=NOTHING, three=three)))  # fmt: skip
    if extra.magnitude:
        how, label = f"{show(load)} + {show(extra)}", "With continuous loads at 125 %"
        lines.append(line("continuous_load", label, load + extra, rule, how=how))
        lines.append(line("continuous", f"{label}, current", needed, rule, total=True))
    lines.append(rating_line(needed, edition, one_family=False))
    if shop.service.rating is not None:
        lines.append(left_line(needed, shop.service.rating))
    return Section(title="Service or feeder", lines=tuple(lines))


def neutral_section(demands: Sequence[Demand], shop: Shop, edition: Edition) -> Section:
    """The maximum unbalance: all that is connected to the neutral (220.61)."""
    supply, rule = shop.service.supply, edition.neutral
    carried = [demand for demand in demands if demand.on_neutral.magnitude > 0]
    lines = [
        line(f"neutral_{demand.key}", demand.label, demand.on_neutral, rule.unbalance)
        for demand in carried
    ]
    load = total(*(demand.on_neutral for demand in carried))
    lines.append(line("neutral", "Neutral load", load, rule.unbalance, total=True))
    wires = math.sqrt(3) if supply.wye and supply.phases == 3 else 1.0
    across = 2 * supply.to_neutral.m_as(VOLT) if wires == 1.0 else supply.line.m_as(VOLT)
    current = Q(float(load.m_as(VA)) / (wires * float(across)), AMPERE)
    return Section(title="Neutral", lines=(*lines, _current(current, shop, edition)))


def _current(current: Quantity, shop: Shop, edition: Edition) -> Line:
    label, withheld = "Neutral current", edition.shop.nonlinear_on_wye
    if shop.service.supply.wye and withheld.value:
        return line("neutral_current", label, current, withheld, total=True)
    after, rule = reduced(current, shop, edition), edition.neutral.above_factor
    if after == current:
        return line("neutral_current", label, current, total=True)
    how = f"{show(current)}, the part above {show(edition.neutral.above.value)} at 70 %"
    return line("neutral_current", label, after, rule, how=how, total=True)
