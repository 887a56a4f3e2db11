"""How do rows of this room become the plain facts that the record checker judges?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from uuid import UUID

from panels.models import Circuit, Home, Load, Panel, ServiceEntrance
from panels.queries.records import fed_by
from panels.queries.tree import va_of
from panels.rules.check.facts import Breaker, Draw, Dwelling, Entrance, Fed, PanelPlate
from panels.rules.layout import System
from panels.rules.tree import chain


def breaker(circuit: Circuit, panel: Panel, loads: Sequence[Load] = ()) -> Breaker:
    """One breaker; `panel` seats it."""
    seat = circuit.seat_in(panel.frame)
    fed = fed_by(circuit)
    return Breaker(
        id=str(circuit.pk), place=seat.text, legs=seat.legs, kind=circuit.kind,
        name=circuit.name, poles=circuit.poles, rating_a=circuit.rating_a,
        protection=circuit.protection, serves=circuit.serves, areas=tuple(circuit.areas),
        wire_size=circuit.wire_size, wire_material=circuit.wire_material,
        wire_sets=circuit.wire_sets, insulation_c=circuit.insulation_c,
        terminal_c=circuit.terminal_c, bundled=circuit.bundled, ambient_c=circuit.ambient_c,
        length_ft=circuit.length_ft, multiwire=circuit.multiwire, tied=circuit.tied,
        grouped=circuit.grouped,
        full_rated=circuit.full_rated, interrupting_ka=circuit.interrupting_ka,
        tap_rule=circuit.tap_rule,
        feeds=Fed(name=fed.name, bus_a=fed.bus_a, main_a=fed.main_a) if fed else None,
        draws=tuple(_draw(load) for load in loads),
    )  # fmt: skip


def plate(panel: Panel, *, fed_from: str = "", feeder_a: int | None = None) -> PanelPlate:
    """The panel; what feeds it is said, so that nothing here asks the database."""
    return PanelPlate(
        id=str(panel.pk), name=panel.name, system=System(panel.system), rating_a=panel.rating_a,
        bus_a=panel.bus_a, main_a=panel.main_a, interrupting_ka=panel.interrupting_ka,
        directory_at=panel.directory_at, supply_marked=panel.supply_marked,
        fault_marked_ka=panel.fault_marked_ka, fault_marked_on=panel.fault_marked_on,
        transformer_kva=panel.transformer_kva,
        secondary_protected_a=panel.secondary_protected_a,
        fed_from=fed_from, feeder_a=feeder_a,
    )  # fmt: skip


def feed(panel: Panel, panels: Mapping[UUID, Panel]) -> tuple[str, int | None]:
    """The panel that feeds this one and the device ahead of it, A; empty for the service."""
    if panel.fed_from:
        return panel.fed_from.panel.name, panel.fed_from.rating_a
    through = panels.get(panel.fed_through_id) if panel.fed_through_id else None
    if through is None:
        return "", None
    return through.name, _protection(through, panels)


def _protection(panel: Panel, panels: Mapping[UUID, Panel]) -> int | None:
    """What protects the bus of a panel whose lugs feed on: its main, or the device ahead of it."""
    parents = {key: one.fed_through_id for key, one in panels.items()}
    for key in chain(parents, panel.pk):
        above = panels.get(key)
        if above is None:
            return None
        known = [rating for rating in (above.main_a, _feeder(above)) if rating]
        if known:
            return min(known)
    return None


def _feeder(panel: Panel) -> int | None:
    return panel.fed_from.rating_a if panel.fed_from else None


def _draw(load: Load) -> Draw:
    return Draw(
        name=load.name, kind=load.kind, va=va_of(load), volts=load.volts,
        continuous=load.continuous, motor=load.motor,
    )  # fmt: skip


def dwelling(home: Home | None) -> Dwelling | None:
    if home is None:
        return None
    return Dwelling(
        bathrooms=home.bathrooms, has_garage=home.has_garage, service_a=home.service_a,
        is_feeder=home.is_feeder,
    )  # fmt: skip


def entrance(found: ServiceEntrance | None) -> Entrance | None:
    if found is None:
        return None
    return Entrance(
        occupancy=found.occupancy, available_ka=found.available_ka,
        disconnect_outdoors=found.disconnect_outdoors, disconnect_marked=found.disconnect_marked,
        disconnect_ka=found.disconnect_ka,
    )  # fmt: skip
