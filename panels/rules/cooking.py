"""What does household cooking ask for: the table, its columns and its notes?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from contractor.units import Quantity
from panels.rules.appliances import is_small_cooking
from panels.rules.demand import Demand, at_factor, item
from panels.rules.dwelling import COOKING, Equipped, Load
from panels.rules.edition import Cooking, CookingBand, Edition
from panels.rules.errors import NotCovered
from panels.rules.household import household
from panels.rules.phases import Pairing, pair
from panels.rules.quantities import VA, percent, show, va
from panels.rules.sourced import Sourced
from panels.rules.working import line


@dataclass(frozen=True, kw_only=True)
class Part:
    """What one column of the table gives for some of the appliances."""

    load: Quantity
    how: str
    sources: tuple[Sourced[Quantity], ...]


def cooking_demand(dwelling: Equipped, edition: Edition) -> Demand:
    """The least the table permits: column C, or columns A and B for those note 3 lets in."""
    rule = edition.cooking
    loads = [load for load in dwelling.of(*COOKING) if not is_small_cooking(load, edition)]
    if not loads:
        return Demand(key="cooking", label="Household cooking")
    parts = min(_choices(loads, dwelling, rule), key=lambda parts: _sum(parts))
    demand, how = va(_sum(parts)), "; ".join(part.how for part in parts)
    sources = [source for part in parts for source in part.sources]
    lines = [item(load) for load in loads]
    lines.append(
        line("cooking", "Household cooking", demand, rule.table, *sources, how=how, total=True)
    )
    return household("cooking", "Household cooking", demand, dwelling, edition, lines=lines)


def _choices(loads: Sequence[Load], dwelling: Equipped, rule: Cooking) -> list[list[Part]]:
    """Column C for all of them; and, by note 3, columns A and B with C for the larger ones."""
    through = rule.note_3.value.m_as(VA)
    choices = [[column_c(loads, dwelling, rule)]]
    below = rule.column_a_below.value.m_as(VA)
    a = [load for load in loads if load.one < below]
    b = [load for load in loads if below <= load.one <= through]
    larger = [load for load in loads if load.one > through]
    if a or b:
        parts = [_by_percent(a, "A", dwelling, rule)] if a else []
        parts += [_by_percent(b, "B", dwelling, rule)] if b else []
        parts += [column_c(larger, dwelling, rule)] if larger else []
        choices.append(parts)
    return choices


def _sum(parts: Sequence[Part]) -> float:
    return sum(float(part.load.m_as(VA)) for part in parts)


def _enter(loads: Sequence[Load], dwelling: Equipped, rule: Cooking) -> tuple[Pairing, CookingBand]:
    pairing = pair(sum(load.count for load in loads), dwelling, rule=rule.three_phase.value)
    return pairing, rule.table.value.at(pairing.entered, cite=rule.table.cite)


def _by_percent(loads: Sequence[Load], column: str, dwelling: Equipped, rule: Cooking) -> Part:
    """Note 3: the summed nameplates of one column times its factor for their number."""
    pairing, row = _enter(loads, dwelling, rule)
    factor = row.a if column == "A" else row.b
    entered = va(sum(load.all for load in loads) / pairing.count * pairing.entered)
    between = va(entered.magnitude * factor)
    how = pairing.words(f"column {column}: {at_factor(entered, factor)}", between)
    return Part(load=pairing.load(between), how=how, sources=(rule.note_3,))


def column_c(loads: Sequence[Load], dwelling: Equipped, rule: Cooking) -> Part:
    """Column C for their number; notes 1 and 2 add a step for each kVA, or major fraction of
    one, by which the average (each taken at 12 kVA or more) is above 12. Refused above 27 kVA.
    """
    most = rule.note_1_through.value
    for load in loads:
        if load.one > most.m_as(VA):
            raise NotCovered(
                f"{load.name}: {show(load.apparent or most)} is above {show(most)}, where the"
                " table ends. Ask the authority how to count it",
                cite=rule.note_1_through.cite,
            )
    pairing, row = _enter(loads, dwelling, rule)
    between = row.base.m_as(VA) + row.each.m_as(VA) * pairing.entered
    floor = rule.note_2.value.m_as(VA)
    average = sum(max(load.one, floor) * load.count for load in loads) / pairing.count
    steps = math.floor(round((average - rule.column_c_through.value.m_as(VA)) / 1000, 6) + 0.5)
    how, sources = f"column C for {pairing.entered}: {show(va(between))}", (rule.column_c_through,)
    if steps:
        more = rule.note_1_step.value * steps
        how += f" × {percent(1 + more)} (average {show(va(average))})"
        between *= 1 + more
        uneven = len({load.one for load in loads}) > 1
        sources = (rule.note_2 if uneven else rule.note_1_through,)
    return Part(
        load=pairing.load(va(between)), how=pairing.words(how, va(between)), sources=sources
    )
