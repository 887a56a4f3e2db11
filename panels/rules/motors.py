"""How much is added for the largest motor?"""

from __future__ import annotations

from collections.abc import Iterable

from panels.rules.demand import Demand, Share, at_factor
from panels.rules.edition import Edition
from panels.rules.quantities import va
from panels.rules.working import line

LABEL = "Largest motor"


def motors(demands: Iterable[Demand]) -> list[Share]:
    """The motors that are part of the load, leaving out those raised already."""
    shares = (share for demand in demands for share in demand.shares)
    return [share for share in shares if share.load.driven and share.factor <= 1]


def motor_demand(demands: Iterable[Demand], edition: Edition) -> Demand:
    """A quarter of the largest motor on top of what is counted already (430.24)."""
    running = motors(demands)
    if not running:
        return Demand(key="motor", label=LABEL)
    largest = max(running, key=lambda share: share.load.one).load
    single = max((share.load.one for share in running if share.load.to_neutral), default=0.0)
    extra = edition.motor_extra
    added = line(
        "motor",
        f"{LABEL}: {largest.name}",
        va(largest.one * extra.value),
        extra,
        how=at_factor(va(largest.one), extra.value),
        total=True,
    )
    to_neutral = single * extra.value
    return Demand(
        key="motor",
        label=LABEL,
        to_neutral=va(to_neutral),
        between_legs=va(largest.one * extra.value - to_neutral),
        lines=(added,),
    )
