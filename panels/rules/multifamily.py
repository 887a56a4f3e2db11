"""What load does the optional method give for three or more dwellings (220.84)?"""

from __future__ import annotations

from panels.rules.climate import LABEL, cooling, heating
from panels.rules.demand import Demand, at_factor, in_proportion, item, load_of, times, total
from panels.rules.dwelling import CLIMATE, COOKING, Building, Dwelling, Load, Unit
from panels.rules.edition import Edition
from panels.rules.lighting import connected, lighting_load
from panels.rules.motors import motor_demand
from panels.rules.optional import nameplate_item, nameplates, outside, together
from panels.rules.quantities import show
from panels.rules.report import report, section_of
from panels.rules.standard import house_demand, part_three
from panels.rules.working import Result, Section, line

KEY, TITLE = "multifamily", "Optional method, three or more dwellings"


def objection(building: Building, edition: Edition) -> str | None:
    """Why this method does not apply, or None (220.84(A))."""
    least = edition.multifamily.least_units
    if building.count < least.value:
        return (
            f"It is for {least.value} or more dwellings ({least.cite}); here are {building.count}."
        )
    return unit_objection(building, edition)


def unit_objection(building: Building, edition: Edition) -> str | None:
    """What the dwellings lack for this method: heating or cooling, or cooking in some of them."""
    rule = edition.multifamily
    bare = not all(unit.dwelling.of(*CLIMATE) for unit in building.units)
    if rule.climate_in_each.value and bare:
        return f"Each dwelling needs electric heating or cooling ({rule.climate_in_each.cite})."
    if rule.cooking_in_each.value and len({cooks(unit) for unit in building.units}) > 1:
        return f"Electric cooking is in some dwellings, not in all ({rule.cooking_in_each.cite})."
    return None


def cooks(unit: Unit) -> bool:
    return bool(unit.dwelling.of(*COOKING))


def multifamily(building: Building, edition: Edition) -> Result:
    """The dwellings' load times the factor for their number; house loads by Part III.

    Without electric cooking the lesser of Part III and this method with 8 kW for each dwelling.
    """
    house = house_demand(building, edition)
    optional = [
        optional_dwellings(building, edition, count=building.count),
        *outside(building.pooled, edition),
        house,
        motor_demand([house], edition),
    ]
    part_iii = part_three(building, edition)
    if any(cooks(unit) for unit in building.units):
        return report(KEY, TITLE, building, edition, counted=optional, unbalance=part_iii)
    counted = min(part_iii, optional, key=load_of)
    how = f"Part III {show(load_of(part_iii))}, this method {show(load_of(optional))}"
    rule = edition.multifamily.without_cooking
    lesser = line("lesser", "The lesser of the two", load_of(counted), rule, how=how, total=True)
    shown = [*map(section_of, optional), Section(title="Without electric cooking", lines=(lesser,))]
    return report(
        KEY, TITLE, building, edition, counted=list(counted), unbalance=part_iii, shown=shown
    )


def optional_dwellings(building: Building, edition: Edition, *, count: int) -> Demand:
    """All that is connected in the dwellings, times the table's factor for `count` of them."""
    pooled, rule = building.pooled, edition.multifamily
    lighting, climate = connected(pooled, edition), _climate(pooled)
    loads = nameplates(pooled, edition)
    load, single = together(lighting_load(lighting), [*loads, *climate])
    lines = [*lighting, *(nameplate_item(one, edition) for one in loads)]
    lines += [item(one, note=f"{LABEL}, the larger.") for one in climate]
    if not any(cooks(unit) for unit in building.units):
        each = rule.without_cooking
        stand_in, how = times(each.value, building.count), f"{building.count} × {show(each.value)}"
        load = total(load, stand_in)
        lines.append(line("cooking_stand_in", "In place of cooking", stand_in, each, how=how))
    factor = rule.factors.value.at(count, cite=rule.factors.cite)
    label, demand = f"{count} dwellings", times(load, factor)
    how = at_factor(load, factor)
    lines.append(line("connected", "Connected in the dwellings", load))
    lines.append(
        line("dwellings", f"{label} after demand", demand, rule.factors, how=how, total=True)
    )
    return in_proportion("dwellings", label, demand, single=single, load=load, lines=lines)


def _climate(pooled: Dwelling) -> tuple[Load, ...]:
    return max(cooling(pooled), heating(pooled), key=lambda loads: sum(load.all for load in loads))
