"""What load may two dwellings on one feeder be given (220.85)?"""

from __future__ import annotations

from dataclasses import replace

from panels.rules.demand import Demand, load_of
from panels.rules.dwelling import Building
from panels.rules.edition import Edition
from panels.rules.motors import motor_demand
from panels.rules.multifamily import cooks, optional_dwellings, unit_objection
from panels.rules.optional import outside
from panels.rules.report import report, section_of
from panels.rules.standard import house_demand, part_three
from panels.rules.working import Result, Section, line

KEY, TITLE = "two_family", "Two dwellings, the lesser of two methods"


def objection(building: Building, edition: Edition) -> str | None:
    """Why this method does not apply, or None."""
    rule = edition.multifamily
    if building.count != 2:
        cite = rule.two_family_as.cite
        return f"It is for two dwellings on one feeder ({cite}); here are {building.count}."
    if not all(cooks(unit) for unit in building.units):
        return f"Each dwelling needs electric cooking ({rule.cooking_in_each.cite})."
    return unit_objection(building, edition)


def two_family(building: Building, edition: Edition) -> Result:
    """The lesser of Part III and three identical dwellings by the optional method.

    Where the two differ, three of the larger are taken.
    """
    rule = edition.multifamily.two_family_as
    part_iii, label = part_three(building, edition), f"As {rule.value} identical dwellings"
    choices = [_three_of(building, index, edition) for index in range(len(building.units))]
    three, house = (
        max(choices, key=lambda demand: load_of([demand])),
        house_demand(building, edition),
    )
    optional = [three, *outside(building.pooled, edition), house, motor_demand([house], edition)]
    counted = min(part_iii, optional, key=load_of)
    lesser = (
        line("part_three", "By Part III", load_of(part_iii)),
        line("three_dwellings", label, load_of(optional), rule),
        line("lesser", "The lesser of the two", load_of(counted), rule, total=True),
    )
    shown = [
        *map(section_of, part_iii),
        Section(title=label, lines=three.lines),
        Section(title="The lesser", lines=lesser),
    ]
    return report(
        KEY, TITLE, building, edition, counted=list(counted), unbalance=part_iii, shown=shown
    )


def _three_of(building: Building, index: int, edition: Edition) -> Demand:
    count = edition.multifamily.two_family_as.value
    alike = replace(building, units=(replace(building.units[index], count=count),), house_loads=())
    return optional_dwellings(alike, edition, count=count)
