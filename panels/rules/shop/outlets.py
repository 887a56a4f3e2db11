"""What do receptacles, multioutlet assemblies and kitchen equipment of a shop ask for?"""

from __future__ import annotations

from contractor.units import ureg
from panels.rules.cooking import cooking_demand
from panels.rules.demand import Demand, at_factor, in_proportion, item, times, total
from panels.rules.dwelling import COOKING, Kind
from panels.rules.edition import Edition
from panels.rules.errors import NotCovered
from panels.rules.quantities import SQUARE_FOOT, show, va
from panels.rules.shop.lighting import at_120_volts
from panels.rules.shop.pieces import Piece, quarter, steady
from panels.rules.shop.premises import Shop
from panels.rules.working import Line, line


def receptacle_piece(shop: Shop, edition: Edition) -> Piece:
    """Each yoke and each length of assembly, after their demand; in offices and banks at least
    the load by area."""
    rule, label = edition.shop.outlets, "Receptacles"
    lines = _connected(shop, edition)
    connected = total(*(one.value for one in lines if isinstance(one.value, ureg.Quantity)))
    load, how = rule.demand.value.apply(connected)
    if lines:
        lines.append(
            line("receptacles_demand", f"{label} after demand", load, rule.demand, how=how)
        )
    if shop.occupancy.value in rule.by_area_kinds.value:
        area, each = shop.floor_area.to(SQUARE_FOOT), rule.by_area
        least = va(area.m_as(SQUARE_FOOT) * each.value.m_as("VA/ft**2"))
        how = f"{show(area)} × {show(each.value)}"
        lines.append(line("receptacles_area", f"{label} by area", least, each, how=how))
        load = max(load, least)
    if not lines:
        return Piece(demand=Demand(key="receptacles_load", label=label))
    lines.append(line("receptacles_load", label, load, total=True))
    return Piece(demand=at_120_volts("receptacles_load", label, load, shop, tuple(lines)))


def _connected(shop: Shop, edition: Edition) -> list[Line]:
    rule = edition.shop.outlets
    lines = []
    if shop.receptacles:
        load = times(rule.receptacle.value, shop.receptacles)
        how = f"{shop.receptacles} × {show(rule.receptacle.value)}"
        lines.append(line("receptacles", "Receptacles connected", load, rule.receptacle, how=how))
    for key, label, length, each in (
        ("multioutlet", "Multioutlet assemblies", shop.multioutlet, rule.multioutlet_length),
        ("multioutlet_busy", "Multioutlet assemblies, used together", shop.multioutlet_busy,
         rule.multioutlet_busy_length),
    ):  # fmt: skip
        if length.magnitude:
            pieces = float((length / each.value).m_as(""))
            how = f"{show(length)} ÷ {show(each.value)} × {show(rule.multioutlet.value)}"
            load = times(rule.multioutlet.value, pieces)
            lines.append(line(key, label, load, each, how=how))
    return lines


def teaching_piece(shop: Shop, edition: Edition) -> Piece:
    """Household cooking appliances for teaching, by the table of dwellings (its note 5)."""
    rule, loads = edition.cooking, shop.of(*COOKING)
    if loads and shop.occupancy.value not in rule.note_5.value:
        raise NotCovered(
            f"{loads[0].name}: a household appliance is counted so only where cooking is taught."
            " Put it down as commercial kitchen equipment",
            cite=rule.note_5.cite,
        )
    return Piece(demand=cooking_demand(shop, edition))


def kitchen_piece(shop: Shop, edition: Edition) -> Piece:
    """Kitchen equipment times the factor for its number, but no less than its two largest."""
    rule, loads, label = edition.shop, shop.of(Kind.KITCHEN), "Kitchen equipment"
    if not loads:
        return Piece(demand=Demand(key="kitchen", label=label))
    count = sum(load.count for load in loads)
    connected = va(sum(load.all for load in loads))
    factor = rule.kitchen.value.at(count, cite=rule.kitchen.cite)
    each = sorted((load.one for load in loads for _ in range(load.count)), reverse=True)
    least = va(sum(each[: rule.kitchen_largest.value]))
    demand, how, note = times(connected, factor), at_factor(connected, factor), ""
    if demand < least:
        demand, note = least, f"No less than the {rule.kitchen_largest.value} largest."
    lines = [
        *(item(load) for load in loads),
        line("kitchen", f"{label} after demand", demand, rule.kitchen, how=how, note=note,
             total=True),
    ]  # fmt: skip
    single = va(sum(load.all for load in loads if load.to_neutral))
    part = float((demand / connected).m_as("")) if connected.magnitude else 0.0
    running = va(sum(load.all for load in loads if steady(load)) * part)
    three = va(sum(load.all for load in loads if load.phases == 3) * part)
    return Piece(
        demand=in_proportion("kitchen", label, demand, single=single, load=connected, lines=lines),
        extra=quarter(running, edition),
        three_phase=three,
    )
