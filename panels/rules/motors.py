"""How much is added for the largest motor?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from panels.rules.demand import Demand, Share, at_factor
from panels.rules.edition import Edition
from panels.rules.quantities import va
from panels.rules.working import line

LABEL = "Largest motor"


def motors(demands: Iterable[Demand]) -> list[Share]:
    """The motors that are part of the load, leaving out those raised already."""
    return driven(share for demand in demands for share in demand.shares)


def largest(shares: Iterable[Share], *, single: bool = False) -> float:
    """The nameplate (VA) of the largest; of those to neutral only, if `single`."""
    fitting = (share.load for share in shares if share.load.to_neutral or not single)
    return max((load.one for load in fitting), default=0.0)


def motor_demand(demands: Sequence[Demand], edition: Edition) -> Demand:
    """A quarter of the largest motor on top of what is counted already (430.24).

    The neutral takes a quarter of the largest motor connected to it in either season.
    """
    running, extra = motors(demands), edition.motor_extra
    idle = driven(share for demand in demands for share in demand.off_season)
    if not running:
        return Demand(key="motor", label=LABEL)
    motor = max(running, key=lambda share: (share.load.one, share.load.name)).load
    quarter, single = motor.one * extra.value, largest(running, single=True) * extra.value
    either = largest([*running, *idle], single=True) * extra.value
    how = at_factor(va(motor.one), extra.value)
    added = line("motor", f"{LABEL}: {motor.name}", va(quarter), extra, how=how, total=True)
    return Demand(
        key="motor",
        label=LABEL,
        to_neutral=va(single),
        between_legs=va(quarter - single),
        idle_neutral=va(either - single),
        lines=(added,),
    )


def driven(shares: Iterable[Share]) -> list[Share]:
    """Those that are motors, leaving out any raised already."""
    return [share for share in shares if share.load.driven and share.factor <= 1]
