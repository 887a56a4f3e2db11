"""What is on record of a panel's breakers and their loads, as leg balance is asked for it?"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from panels.models import Circuit, Load, Panel, Source
from panels.queries import records
from panels.queries.tree import va_of

Plain = dict[str, Any]
FEEDING = (Source.Kind.SOLAR, Source.Kind.STORAGE, Source.Kind.GENERATOR)


@dataclass(frozen=True, kw_only=True)
class Recorded:
    """The plain description, the circuits in its order, and loads on no circuit at all."""

    inputs: Plain
    circuits: list[Circuit]
    unplaced: int


def recorded(panel: Panel, *, most_moves: int | None = None) -> Recorded:
    """In five queries however many breakers there are. A breaker that feeds a panel carries what
    is recorded behind it; a source keeps its place, which the rules of 705.12 may depend on."""
    circuits = list(records.circuits_of(panel))
    site = Circuit.objects.filter(panel__site=panel.site_id, panel__retired_at=None)
    loads = list(Load.objects.filter(site=panel.site_id))
    behind = _behind(site.values_list("pk", "panel_id", "feeds__pk"), loads)
    inputs: Plain = {
        "panel": {
            "spaces": panel.spaces, "numbering": panel.numbering, "system": panel.system,
            "tandem": panel.tandem_spaces,
        },
        "circuits": [_described(one, behind.get(one.pk)) for one in circuits],
    }  # fmt: skip
    if most_moves is not None:
        inputs["most_moves"] = most_moves
    unplaced = sum(load.circuit_id is None for load in loads)
    return Recorded(inputs=inputs, circuits=circuits, unplaced=unplaced)


def _described(circuit: Circuit, va: float | None) -> Plain:
    source = circuit.kind == Circuit.Kind.SOURCE or any(
        one.kind in FEEDING for one in circuit.sources.all()
    )
    if va is None and (source or circuit.kind == Circuit.Kind.SPARE):
        va = 0.0
    plain: Plain = {
        "name": str(circuit), "space": circuit.space, "poles": circuit.poles,
        "half": circuit.half, "locked": circuit.locked or source, "tied": bool(circuit.tied),
        "multiwire": circuit.multiwire,
        "load": None if va is None else {"value": va, "unit": "VA"},
    }  # fmt: skip
    return {name: value for name, value in plain.items() if value not in (None, "", False)}


def _behind(
    circuits: Iterable[tuple[UUID, UUID, UUID | None]], loads: Iterable[Load]
) -> dict[UUID, float]:
    """VA by circuit: what hangs on it and, of a feeder, on the panel it feeds; those with nothing
    on record are left out."""
    own: dict[UUID, float] = {}
    for load in loads:
        va = va_of(load)
        if load.circuit_id is not None and va is not None:
            own[load.circuit_id] = own.get(load.circuit_id, 0.0) + va
    inside: dict[UUID, list[UUID]] = defaultdict(list)
    feeds: dict[UUID, UUID] = {}
    for key, panel, fed in circuits:
        inside[panel].append(key)
        if fed is not None:
            feeds[key] = fed
    found = {key: _sum(key, own, inside, feeds) for keys in inside.values() for key in keys}
    return {key: va for key, va in found.items() if va is not None}


def _sum(
    key: UUID, own: Mapping[UUID, float], inside: Mapping[UUID, list[UUID]],
    feeds: Mapping[UUID, UUID],
) -> float | None:  # fmt: skip
    parts = [_sum(one, own, inside, feeds) for one in inside.get(feeds.get(key, key), [])]
    known = [part for part in [own.get(key), *parts] if part is not None]
    return sum(known) if known else None
