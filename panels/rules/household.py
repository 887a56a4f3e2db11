"""How much of a household cooking or drying load falls on the neutral?"""

from __future__ import annotations

from collections.abc import Iterable

from contractor.units import Quantity
from panels.rules.demand import Demand, times
from panels.rules.dwelling import Equipped
from panels.rules.edition import Edition
from panels.rules.sourced import Sourced
from panels.rules.working import Line


def household(
    key: str, label: str, load: Quantity, dwelling: Equipped, edition: Edition,
    *, lines: Iterable[Line],
) -> Demand:  # fmt: skip
    """The demand between legs, with the part the neutral carries (220.61(B)(1), (C)(1))."""
    rule = edition.neutral
    withheld = dwelling.service.supply.wye_three_wire and not rule.reduced_on_wye_three_wire.value
    factor = 1.0 if withheld else rule.household.value
    sources: tuple[Sourced[float] | Sourced[bool], ...] = (rule.household,)
    if dwelling.service.supply.wye_three_wire:
        sources = (rule.reduced_on_wye_three_wire,)
    return Demand(
        key=key,
        label=label,
        between_legs=load,
        neutral=times(load, factor),
        neutral_factor=factor,
        neutral_rule=sources,
        lines=tuple(lines),
    )
