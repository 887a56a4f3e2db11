"""What does this conductor carry where it is installed, and what may protect it?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from contractor.units import Q, Quantity
from panels.rules.edition import Edition
from panels.rules.errors import NotCovered
from panels.rules.quantities import AMPERE, percent, show
from panels.rules.service import next_rating
from panels.rules.sourced import Sourced
from panels.rules.wire.conditions import Conditions
from panels.rules.wire.lookup import ambient_factor, ampacity, bundling_factor, small_limit
from panels.rules.wire.sizes import Size
from panels.rules.working import Line, line

SLACK = 1 + 1e-9  # for lengths and amperes that were converted


@dataclass(frozen=True, kw_only=True)
class Carried:
    """The steps from the table to the ampacity; all amperes are of one conductor but `total`."""

    size: Size
    conditions: Conditions
    insulation: int
    terminal: int
    table: Quantity
    ambient: float
    bundling: float
    at_terminals: Quantity

    @property
    def corrected(self) -> Quantity:
        one: Quantity = self.table * (self.ambient * self.bundling)
        return one

    @property
    def total(self) -> Quantity:
        """The ampacity of all sets: after correction, and not above what the terminals allow."""
        all_sets: Quantity = min(self.corrected, self.at_terminals) * self.conditions.sets
        return all_sets


def carried(
    size: Size, conditions: Conditions, edition: Edition, *, device: Quantity | None = None
) -> Carried:
    """The ampacity of a size by its insulation, surroundings and terminals.

    310.15, 110.14(C). Raises `NotCovered` where a table has no value or the size may not be
    paralleled.
    """
    _parallel(size, conditions, edition)
    terminal = conditions.terminal or _terminal(size, device, edition)
    insulation = conditions.insulation or terminal
    together = 1 if _short(conditions, edition) else conditions.together
    return Carried(
        size=size,
        conditions=conditions,
        insulation=insulation,
        terminal=terminal,
        table=ampacity(size, conditions.metal, insulation, edition),
        ambient=ambient_factor(conditions.ambient, insulation, edition),
        bundling=bundling_factor(together, edition),
        at_terminals=ampacity(size, conditions.metal, min(terminal, insulation), edition),
    )


def _parallel(size: Size, conditions: Conditions, edition: Edition) -> None:
    least = edition.wire.carrying.parallel_from
    if conditions.sets > 1 and size < least.value:
        raise NotCovered(
            f"{size} may not be run in parallel; {least.value} and larger may", cite=least.cite
        )


def _terminal(size: Size, device: Quantity | None, edition: Edition) -> int:
    """60 °C for small circuits, else 75 °C; where no device is known the size decides."""
    rule = edition.wire.carrying
    if device is not None:
        return 60 if device <= rule.terminals_60_through.value else 75
    return 60 if size <= rule.terminals_60_through_size.value else 75


def _short(conditions: Conditions, edition: Edition) -> bool:
    length = conditions.raceway_length
    return length is not None and length <= edition.wire.carrying.bundling_from.value * SLACK


@dataclass(frozen=True, kw_only=True)
class Largest:
    """The largest overcurrent device, and the values behind it."""

    device: Quantity
    how: str
    sources: tuple[Sourced[Any], ...]


def largest_device(found: Carried, edition: Edition, *, receptacles: bool) -> Largest:
    """240.4: the ampacity, up to the next standard rating where that is allowed, and small
    conductors by their own limit. Raises `NotCovered` below the smallest standard rating."""
    rule, standard = edition.wire.carrying, edition.ratings.standard
    limit = small_limit(found.size, found.conditions.metal, edition)
    up = not receptacles and found.total <= rule.next_size_through.value
    if up:
        device, how = next_rating(found.total, edition), "standard rating at or above the ampacity"
    else:
        device, how = _below(found.total, edition), "standard rating not above the ampacity"
    if limit is not None and limit <= device:
        return Largest(device=limit, how="limit for this size", sources=(rule.small,))
    return Largest(device=device, how=how, sources=(rule.next_size_through, standard))


def _below(current: Quantity, edition: Edition) -> Quantity:
    standard = edition.ratings.standard
    amperes = float(current.m_as(AMPERE)) + 1e-9
    fitting = [rating for rating in standard.value if rating <= amperes]
    if not fitting:
        raise NotCovered(
            f"{show(current)} is below the smallest standard rating, {standard.value[0]} A",
            cite=standard.cite,
        )
    return Q(float(fitting[-1]), AMPERE)


def carried_lines(found: Carried, edition: Edition) -> list[Line]:
    """The steps for people, each with its section."""
    rule, of = edition.wire.carrying, found.conditions
    insulation = "" if of.insulation else "Insulation not stated: taken as the terminals allow."
    together = f"{of.together} current-carrying conductors"
    asked: list[Sourced[Any]] = [rule.bundling]
    if of.raceway_length is not None:
        together += f", raceway of {show(of.raceway_length)}"
        asked.append(rule.bundling_from)
    lines = [
        line("table_ampacity", f"{found.size} {of.metal.label}, {found.insulation} °C column",
             found.table, rule.ampacity, note=insulation),
        line("ambient_factor", f"Ambient temperature {of.ambient:g} °C", found.ambient,
             rule.ambient),
        line("bundling_factor", together, found.bundling, *asked),
        line("corrected", "After correction", found.corrected,
             how=f"{show(found.table)} × {percent(found.ambient)} × {percent(found.bundling)}"),
        line("terminal_ampacity", f"Not above the {min(found.terminal, found.insulation)} °C column"
             " of the terminals", found.at_terminals, rule.terminals_60_through,
             note="" if of.terminal else "Marking of the terminals not stated: by the rule."),
        line("ampacity", "Ampacity", found.total, how=_sets(found), total=True),
    ]  # fmt: skip
    if of.sets > 1:
        lines[-1] = line(
            "ampacity", "Ampacity", found.total, rule.parallel_from, how=_sets(found), total=True
        )
    return lines


def _sets(found: Carried) -> str:
    one = min(found.corrected, found.at_terminals)
    return f"{found.conditions.sets} × {show(one)}" if found.conditions.sets > 1 else ""
