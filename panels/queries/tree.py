"""What is on record of a site's panel tree, as the plain description that the rules read?"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from contractor.models import Site
from panels.models import Circuit, Load, Panel, ServiceEntrance
from panels.queries.records import fed_by
from panels.rules.description import RESISTIVE
from panels.rules.dwelling import Kind
from panels.rules.feeders.site import Use
from panels.rules.rooms import Room

Plain = dict[str, Any]
OUTLETS = frozenset({"receptacles", "lights", "both"})
COUNTERS = frozenset({Room.KITCHEN.value, Room.DINING.value})
SMALL_APPLIANCE_A = 20


def tree(site: Site, *, is_dwelling: bool) -> Plain:
    """The site as `panels.rules.feeders.read` takes it, in four queries however large it is.

    A dwelling's circuits of lights and outlets are counted by area or by the circuit; those of
    other places need their loads.
    """
    panels = list(
        site.panels.filter(retired_at=None)
        .select_related("fed_from", "fed_through")
        .order_by("name")
    )
    circuits = Circuit.objects.filter(panel__in=panels).select_related("feeds").order_by("slots")
    by_panel: dict[Any, list[Circuit]] = defaultdict(list)
    for circuit in circuits:
        by_panel[circuit.panel_id].append(circuit)
    loads = _by_circuit(site.loads.all())
    placed = {circuit.pk for group in by_panel.values() for circuit in group}
    return {
        "service": _service(ServiceEntrance.objects.filter(site=site).first(), panels),
        "panels": [
            _panel(panel, by_panel[panel.pk], loads, is_dwelling=is_dwelling) for panel in panels
        ],
        "unplaced": [
            _load(load) for key, group in loads.items() if key not in placed for load in group
        ],
    }


def _by_circuit(loads: Iterable[Load]) -> dict[Any, list[Load]]:
    found: dict[Any, list[Load]] = defaultdict(list)
    for load in loads:
        found[load.circuit_id].append(load)
    return found


def _service(entrance: ServiceEntrance | None, panels: Sequence[Panel]) -> Plain:
    """Its voltage system is that of the panels it feeds."""
    first = next((panel for panel in panels if panel.upstream_id is None), None)
    said: Plain = {"system": first.system} if first else {}
    if entrance is None:
        return said
    told = ", ".join(filter(None, [entrance.stated_by, _day(entrance)]))
    conductor = _kept(
        size=entrance.wire_size, metal=entrance.wire_material, raceway=entrance.raceway,
        length=_of(entrance.length_ft, "ft"), sets=entrance.wire_sets,
    )  # fmt: skip
    return said | _kept(
        occupancy=entrance.occupancy, available=_of(entrance.available_ka, "kA"),
        x_over_r=entrance.available_xr, stated=told, conductor=conductor,
        transformer=_transformer(
            entrance.transformer_kva, entrance.transformer_z_percent, entrance.transformer_xr
        ),
        disconnect_interrupting=_of(entrance.disconnect_ka, "kA"),
    )  # fmt: skip


def _day(entrance: ServiceEntrance) -> str:
    return entrance.stated_on.isoformat() if entrance.stated_on else ""


def _panel(
    panel: Panel, circuits: Sequence[Circuit], loads: Mapping[Any, list[Load]],
    *, is_dwelling: bool,
) -> Plain:  # fmt: skip
    return _kept(
        name=panel.name, system=panel.system, rating=_of(panel.rating_a, "A"),
        bus=_of(panel.bus_a, "A"), main=_of(panel.main_a, "A"), spaces=panel.spaces,
        numbering=panel.numbering, interrupting=_of(panel.interrupting_ka, "kA"),
        through=panel.fed_through.name if panel.fed_through else "",
        transformer=_transformer(
            panel.transformer_kva, panel.transformer_z_percent, panel.transformer_xr,
            secondary_protected=_of(panel.secondary_protected_a, "A"),
        ),
        circuits=[
            _circuit(circuit, loads.get(circuit.pk, []), is_dwelling=is_dwelling)
            for circuit in circuits
        ],
    )  # fmt: skip


def _circuit(circuit: Circuit, loads: Sequence[Load], *, is_dwelling: bool) -> Plain:
    fed = fed_by(circuit)
    feeds = fed.name if fed and fed.retired_at is None else ""
    conductor = _kept(
        size=circuit.wire_size, metal=circuit.wire_material, raceway=circuit.raceway,
        length=_of(circuit.length_ft, "ft"), sets=circuit.wire_sets, neutral=circuit.neutral_size,
        insulation_c=circuit.insulation_c, terminal_c=circuit.terminal_c,
        ambient_c=circuit.ambient_c, bundled=circuit.bundled,
    )  # fmt: skip
    return _kept(
        space=circuit.space, half=circuit.half, poles=circuit.poles, name=circuit.name,
        rating=_of(circuit.rating_a, "A"), duty=circuit.kind, feeds=feeds,
        loads=[_load(load) for load in loads], use=_use(circuit) if is_dwelling else "",
        interrupting=_of(circuit.interrupting_ka, "kA"), full_rated=circuit.full_rated,
        conductor=conductor,
    )  # fmt: skip


def _use(circuit: Circuit) -> str:
    """How the code counts a dwelling's circuit of outlets or lights (220.12, 220.52)."""
    if circuit.serves not in OUTLETS:
        return Use.NONE
    areas = set(circuit.areas)
    if circuit.serves == "receptacles" and circuit.rating_a == SMALL_APPLIANCE_A:
        if Room.LAUNDRY.value in areas:
            return Use.LAUNDRY
        if areas & COUNTERS:
            return Use.SMALL_APPLIANCE
    return Use.GENERAL


def _load(load: Load) -> Plain:
    va = va_of(load)
    return _kept(
        name=load.name, load=None if va is None else {"value": va, "unit": "VA"},
        volts=load.volts, leg=load.leg, continuous=load.continuous, one_of=load.one_of,
    )  # fmt: skip


def va_of(load: Load) -> float | None:
    """All of a load in VA; watts by their power factor, of a resistance by one. None where the
    nameplate is not known, or says watts of something else without a power factor."""
    if load.nameplate is None:
        return None
    factor = load.power_factor or (1.0 if Kind(load.kind) in RESISTIVE else None)
    wires = math.sqrt(3) if load.phases == 3 else 1.0
    each = {
        Load.Unit.VA: 1.0,
        Load.Unit.KVA: 1000.0,
        Load.Unit.AMPERE: load.volts * wires if load.volts else None,
        Load.Unit.WATT: 1 / factor if factor else None,
        Load.Unit.KILOWATT: 1000 / factor if factor else None,
    }[Load.Unit(load.unit)]
    return None if each is None else load.nameplate * each * load.count


def _transformer(
    kva: float | None, percent_z: float | None, x_over_r: float | None, **more: Any
) -> Plain | None:
    if not (kva and percent_z):
        return None
    return _kept(rating=_of(kva, "kVA"), percent_z=percent_z, x_over_r=x_over_r, **more)


def _of(value: float | None, unit: str) -> Plain | None:
    return None if value is None else {"value": value, "unit": unit}


def _kept(**said: Any) -> Plain:
    """What is on record; what is not is left out, as the rules read it."""
    return {name: value for name, value in said.items() if value not in (None, "", [], {}, False)}
