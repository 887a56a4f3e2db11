"""What does one branch circuit for household cooking have to carry (Table 220.55 note 4)?"""

from __future__ import annotations

from dataclasses import replace

from contractor.units import Q, Quantity
from panels.rules.cooking import cooking_demand
from panels.rules.demand import item, total
from panels.rules.dwelling import COOKING, Equipped, Kind, Load
from panels.rules.edition import Edition
from panels.rules.errors import NotCovered
from panels.rules.quantities import AMPERE, VA, VOLT, va
from panels.rules.report import Premises, assemble, dwelling_of
from panels.rules.service import next_rating
from panels.rules.working import Line, Result, Section, line

KEY, TITLE = "cooking_circuit", "One cooking circuit"


def cooking_circuit(premises: Premises, edition: Edition) -> Result:
    """One range by the table; one oven or cooktop at its nameplate; a cooktop with ovens in the
    same room as one range of their sum. Anything else is refused."""
    dwelling = dwelling_of(premises)
    loads = [load for load in dwelling.of(*COOKING) for _ in range(load.count)]
    ranges, ovens, tops = (
        [load for load in loads if load.kind is kind]
        for kind in (Kind.RANGE, Kind.OVEN, Kind.COOKTOP)
    )
    if len(loads) == 1 and not ranges:
        lines = _at_nameplate(loads[0], edition)
    elif len(loads) == 1:
        lines = list(_by_table(loads[0], dwelling, edition))
    elif len(tops) == 1 and not ranges and len(ovens) <= edition.cooking.note_4.value:
        lines = _as_one_range(loads, dwelling, edition)
    else:
        rule = edition.cooking.note_4
        raise NotCovered(
            "One circuit may have one range, one oven or one cooktop, or one cooktop with at most"
            f" {rule.value} ovens. Give each other appliance its own circuit",
            cite=rule.cite,
        )
    section = Section(title=TITLE, lines=tuple(lines))
    return assemble(KEY, TITLE, edition, [section, _rating(lines[-1], loads, dwelling, edition)])


def _at_nameplate(load: Load, edition: Edition) -> list[Line]:
    rule = edition.cooking.note_4
    return [item(load), line("cooking", "At its nameplate", va(load.one), rule, total=True)]


def _by_table(load: Load, dwelling: Equipped, edition: Edition) -> tuple[Line, ...]:
    alone = replace(dwelling, loads=(replace(load, count=1, managed=False),), managed_at=None)
    demand = cooking_demand(alone, edition)
    return demand.lines or tuple(_at_nameplate(load, edition))


def _as_one_range(loads: list[Load], dwelling: Equipped, edition: Edition) -> list[Line]:
    together = va(sum(load.one for load in loads))
    label = "Together, as one range"
    equal = replace(loads[0], kind=Kind.RANGE, name=label, apparent=together, current=None, count=1)
    rule = edition.cooking.note_4
    return [
        *(item(replace(load, count=1)) for load in loads),
        line("together", label, together, rule),
        *(one for one in _by_table(equal, dwelling, edition) if one.total),
    ]


def _rating(last: Line, loads: list[Load], dwelling: Equipped, edition: Edition) -> Section:
    load: Quantity = last.value  # type: ignore[assignment]
    supply, rule = dwelling.service.supply, edition.cooking
    current = load.m_as(VA) / supply.line.m_as(VOLT)
    amperes = Q(current, AMPERE)
    rating, sources = next_rating(amperes, edition), [edition.ratings.standard]
    together = total(*(va(one.one) for one in loads))
    note = ""
    if together >= rule.circuit_least_from.value:
        sources.append(rule.circuit_least)  # type: ignore[arg-type]
        if rating < rule.circuit_least.value:
            rating, note = rule.circuit_least.value, "The least for a range of that size."
    return Section(
        title="Circuit",
        lines=(
            line("current", "Current", amperes, how=supply.system.label),
            line("rating", "Circuit rating at least", rating, *sources, note=note, total=True),
        ),
    )
