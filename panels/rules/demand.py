"""What does one group of loads add to the calculated load and to the neutral, and why?"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from contractor.units import Quantity
from panels.rules.dwelling import Load
from panels.rules.quantities import VA, percent, show, va
from panels.rules.sourced import Sourced
from panels.rules.supply import Supply
from panels.rules.working import Line, line

NOTHING = va(0.0)


@dataclass(frozen=True, kw_only=True)
class Share:
    """A load that is carried as itself, at a factor, so its place on a leg still matters."""

    load: Load
    factor: float = 1.0

    @property
    def va(self) -> float:
        return self.load.all * self.factor


@dataclass(frozen=True, kw_only=True)
class Demand:
    """A group of loads after its demand rule.

    The load is `to_neutral` plus `between_legs`. The neutral carries all of the first,
    `neutral` of the second, and `idle_neutral` of what runs in the other season instead.
    `shares` are the single loads behind it, where they stay single; `off_season` those of the
    other season.
    """

    key: str
    label: str
    to_neutral: Quantity = NOTHING
    between_legs: Quantity = NOTHING
    neutral: Quantity = NOTHING
    idle_neutral: Quantity = NOTHING
    neutral_factor: float = 1.0
    neutral_rule: tuple[Sourced[Any], ...] = ()
    shares: tuple[Share, ...] = ()
    off_season: tuple[Share, ...] = ()
    lines: tuple[Line, ...] = ()

    @property
    def load(self) -> Quantity:
        return total(self.to_neutral, self.between_legs)

    @property
    def on_neutral(self) -> Quantity:
        return total(self.to_neutral, self.idle_neutral, self.neutral)


def total(*parts: Quantity) -> Quantity:
    return va(sum(float(part.m_as(VA)) for part in parts))


def load_of(demands: Iterable[Demand]) -> Quantity:
    return total(*(demand.load for demand in demands))


def current_of(demands: Sequence[Demand], supply: Supply) -> Quantity:
    """The current per leg of demands spread evenly over the legs."""
    return supply.amperes(
        between_legs=total(*(demand.between_legs for demand in demands)),
        to_neutral=total(*(demand.to_neutral for demand in demands)),
    )


def times(load: Quantity, factor: float) -> Quantity:
    return va(float(load.m_as(VA)) * factor)


def shared(key: str, label: str, shares: Iterable[Share], *, lines: Iterable[Line]) -> Demand:
    """The demand of loads that stay single, split by how each is connected."""
    shares = tuple(shares)
    return Demand(
        key=key,
        label=label,
        to_neutral=va(sum(share.va for share in shares if share.load.to_neutral)),
        between_legs=va(sum(share.va for share in shares if not share.load.to_neutral)),
        shares=shares,
        lines=tuple(lines),
    )


def in_proportion(
    key: str, label: str, demand: Quantity,
    *, single: Quantity, load: Quantity, lines: Iterable[Line],
) -> Demand:  # fmt: skip
    """A demand split as the connected `load` is, of which `single` goes to the neutral."""
    part = float((single / load).magnitude) if load.magnitude else 0.0
    return Demand(
        key=key,
        label=label,
        to_neutral=times(demand, part),
        between_legs=times(demand, 1 - part),
        lines=tuple(lines),
    )


def item(load: Load, *sources: Sourced[Any], each: Quantity | None = None, note: str = "") -> Line:
    """The line of one load: its name, its nameplate and how many there are of it."""
    one = va(load.one) if each is None else each
    many = f"{load.count} × " if load.count > 1 else ""
    how = f"{many}{show(one)}" if many else ""
    if load.current is not None:
        wires = " × √3" if load.phases == 3 else ""
        how = f"{many}{show(load.current)} × {show(load.volts)}{wires}"
    key = "item_" + re.sub(r"[^a-z0-9]+", "_", load.name.lower()).strip("_")
    return line(key, load.name, times(one, load.count), *sources, how=how, note=note)


def at_factor(load: Quantity, factor: float) -> str:
    return f"{show(load)} × {percent(factor)}"
