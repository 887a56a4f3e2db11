"""What do lighting, show windows, track and signs of a shop ask for?"""

from __future__ import annotations

from contractor.units import Q, Quantity, ureg
from panels.rules.demand import Demand, times
from panels.rules.edition import Edition
from panels.rules.errors import NotCovered
from panels.rules.quantities import SQUARE_FOOT, VA, show, va
from panels.rules.shop.pieces import NOTHING, Piece, quarter
from panels.rules.shop.premises import Shop
from panels.rules.sourced import Sourced
from panels.rules.working import Line, line


def lighting_piece(shop: Shop, edition: Edition) -> Piece:
    """The unit load of the occupancy or what is connected, the larger; all of it continuous."""
    rule, by_table = edition.shop.lighting, _by_table(shop, edition)
    table, lines = by_table
    connected = NOTHING if shop.lighting is None else shop.lighting
    if shop.lighting is not None:
        lines.append(line("lighting_connected", "Lighting connected", connected))
    load = max(table, connected)
    note = "The connected lighting is larger." if connected > table else ""
    lines.append(line("lighting", "General lighting", load, note=note, total=True))
    raised = table if rule.includes_continuous.value else table + quarter(table, edition)
    needed = max(raised, connected + quarter(connected, edition))
    demand = Demand(key="lighting", label="General lighting", to_neutral=load, lines=tuple(lines))
    return Piece(demand=demand, extra=va((needed - load).m_as(VA)))


def _by_table(shop: Shop, edition: Edition) -> tuple[Quantity, list[Line]]:
    """The floor at the unit load of its occupancy, after the demand storage has."""
    rule, kind = edition.shop.lighting, shop.occupancy
    unit_loads = rule.unit_loads
    if kind.value not in unit_loads.value:
        known = ", ".join(sorted(unit_loads.value))
        raise NotCovered(
            f"{edition.title} has no unit load for a {kind.label}. Choose the occupancy that"
            f" comes nearest, as the authority sees it: {known}",
            cite=unit_loads.cite,
        )
    unit = unit_loads.value[kind.value]
    table = va(shop.floor_area.m_as(SQUARE_FOOT) * unit.m_as("VA/ft**2"))
    how = f"{show(shop.floor_area.to(SQUARE_FOOT))} × {show(unit)}"
    label = f"Lighting by area, {kind.label}"
    lines = [line("lighting_table", label, table, unit_loads, rule.includes_continuous, how=how)]
    if kind.value in rule.storage_kinds.value:
        table, how = rule.storage.value.apply(table)
        lines.append(line("lighting_demand", "Lighting after demand", table, rule.storage, how=how))
    return table, lines


def window_piece(shop: Shop, edition: Edition) -> Piece:
    """Show windows by their length."""
    rule, length = edition.shop.lighting.show_window, shop.show_window
    load = va(length.m_as(ureg.ft) * rule.value.m_as("VA/ft"))
    how = f"{show(length)} × {show(rule.value)}"
    return _simple("show_window", "Show window", load, shop, edition, rule, how=how)


def track_piece(shop: Shop, edition: Edition) -> Piece:
    """Lighting track by its length; each begun piece of it counts in proportion."""
    rule, length = edition.shop.lighting, shop.track
    load = times(rule.track.value, float((length / rule.track_length.value).m_as("")))
    how = f"{show(length)} ÷ {show(rule.track_length.value)} × {show(rule.track.value)}"
    return _simple("track", "Track lighting", load, shop, edition, rule.track, how=how)


def sign_piece(shop: Shop, edition: Edition) -> Piece:
    """Sign outlets, each at its least; none where the shop has no entrance for the public."""
    rule, label = edition.shop.lighting, "Sign outlets"
    load = times(rule.sign.value, shop.signs)
    how = f"{shop.signs} × {show(rule.sign.value)}"
    if not shop.signs:
        least = rule.signs_least
        note = f"None counted; an entrance for the public needs {least.value}."
        none = line("signs", label, NOTHING, least, note=note)
        return Piece(demand=Demand(key="signs", label=label, lines=(none,)))
    return _simple("signs", label, load, shop, edition, rule.sign, how=how)


def _simple(
    key: str, label: str, load: Quantity, shop: Shop, edition: Edition,
    *sources: Sourced[Quantity], how: str,
) -> Piece:  # fmt: skip
    """Continuous 120 V lighting, in full."""
    if not load.magnitude:
        return Piece(demand=Demand(key=key, label=label))
    lines = (line(key, label, load, *sources, how=how, total=True),)
    demand = at_120_volts(key, label, load, shop, lines)
    return Piece(demand=demand, extra=quarter(load, edition))


def at_120_volts(
    key: str, label: str, load: Quantity, shop: Shop, lines: tuple[Line, ...]
) -> Demand:
    """To neutral; behind a transformer, so between legs, where the supply has no 120 V."""
    if shop.service.supply.to_neutral > Q(200.0, "V"):
        return Demand(key=key, label=label, between_legs=load, lines=lines)
    return Demand(key=key, label=label, to_neutral=load, lines=lines)
