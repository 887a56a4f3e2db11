"""What does each leg carry, where it is recorded on which leg the single loads stand?"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest

from contractor.units import Q
from panels.rules.demand import Demand, Share, total
from panels.rules.dwelling import Dwelling
from panels.rules.edition import Edition
from panels.rules.motors import motors
from panels.rules.quantities import AMPERE, show
from panels.rules.supply import Supply
from panels.rules.working import Line, Section, line


def legs_section(demands: Sequence[Demand], dwelling: Dwelling, edition: Edition) -> Section | None:
    """Amperes leg by leg, by nameplate where it gives amperes; None where legs are not recorded.

    The neutral takes, of the loads on the two legs largest against largest, the larger each time,
    as in Annex D, Example D1(b).
    """
    shares = [share for demand in demands for share in demand.shares]
    single = [share for share in shares if share.load.to_neutral]
    supply = dwelling.service.supply
    if supply.phases == 3 or not single or not all(share.load.leg for share in single):
        return None
    spread = [demand for demand in demands if not demand.shares and demand.key != "motor"]
    extra = edition.motor_extra.value
    lines = []
    for leg in supply.system.legs:
        on_leg = [share for share in shares if share.load.leg in ("", leg)]
        parts = [_spread(spread, supply), *(_amperes(share, supply) for share in on_leg)]
        parts.append(extra * _largest(demands, supply, leg))
        lines.append(_line(f"line_{leg.lower()}", f"Leg {leg}", parts, edition))
    parts = [_spread_neutral(spread, supply), *_unbalance(single, supply)]
    parts.append(
        extra * max(_largest(demands, supply, leg, single=True) for leg in supply.system.legs)
    )
    lines.append(_line("line_n", "Neutral", parts, edition))
    return Section(title="Leg by leg", lines=tuple(lines))


def _amperes(share: Share, supply: Supply) -> float:
    return share.load.amperes(supply) * share.load.count * share.factor


def _spread(demands: Sequence[Demand], supply: Supply) -> float:
    between = total(*(demand.between_legs for demand in demands))
    single = total(*(demand.to_neutral for demand in demands))
    return float(supply.amperes(between_legs=between, to_neutral=single).m_as(AMPERE))


def _spread_neutral(demands: Sequence[Demand], supply: Supply) -> float:
    between = total(*(demand.neutral for demand in demands))
    single = total(*(demand.to_neutral for demand in demands))
    return float(supply.amperes(between_legs=between, to_neutral=single).m_as(AMPERE))


def _largest(demands: Sequence[Demand], supply: Supply, leg: str, *, single: bool = False) -> float:
    """The current of the largest motor on a leg; of those to neutral only, if `single`."""
    legs = (leg,) if single else ("", leg)
    running = (share.load for share in motors(demands) if share.load.leg in legs)
    return max((load.amperes(supply) for load in running), default=0.0)


def _unbalance(single: Sequence[Share], supply: Supply) -> list[float]:
    a, b = (
        sorted((_amperes(s, supply) for s in single if s.load.leg == leg), reverse=True)
        for leg in supply.system.legs
    )
    return [max(pair) for pair in zip_longest(a, b, fillvalue=0.0)]


def _line(key: str, label: str, parts: Sequence[float], edition: Edition) -> Line:
    counted = [Q(part, AMPERE) for part in parts if part]
    how = " + ".join(show(part) for part in counted)
    return line(key, label, Q(sum(parts), AMPERE), edition.motor_extra, how=how, total=True)
