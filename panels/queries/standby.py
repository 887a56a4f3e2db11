"""What is backed up at a site, what does it draw, and what can feed it?"""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass
from uuid import UUID

from contractor.models import Site
from panels.models import Circuit, Load, Panel, Source
from panels.queries.records import fed_by

FEEDING = (Source.Kind.STORAGE, Source.Kind.GENERATOR, Source.Kind.SOLAR)


@dataclass(frozen=True, kw_only=True)
class Backed:
    """A circuit that stays on in an outage; `order` None: to the end."""

    circuit: Circuit
    order: int | None


@dataclass(frozen=True, kw_only=True)
class StandbyRecord:
    """Circuits with what hangs on them, loads on no circuit, and the sources."""

    circuits: list[Circuit]
    backed: list[Backed]
    on: dict[UUID, list[Load]]
    loose: list[Load]
    sources: list[Source]


def record_of(site: Site) -> StandbyRecord:
    """Everything an outage is worked out from, in three queries."""
    found = Circuit.objects.filter(panel__site=site, panel__retired_at=None)
    circuits = list(
        found.exclude(kind=Circuit.Kind.SPARE)
        .select_related("panel", "feeds")
        .order_by("panel__name", "slots")
    )
    loads = list(Load.objects.filter(site=site))
    here = {circuit.pk for circuit in circuits}
    on: dict[UUID, list[Load]] = {}
    for load in loads:
        if load.circuit_id in here:
            on.setdefault(load.circuit_id, []).append(load)
    return StandbyRecord(
        circuits=circuits,
        backed=_backed(circuits, on),
        on=on,
        loose=[load for load in loads if load.circuit_id not in here],
        sources=list(site.sources.filter(kind__in=FEEDING)),
    )


def _backed(circuits: Iterable[Circuit], on: Container[UUID]) -> list[Backed]:
    """Those ticked themselves, or in a panel whose feeder is; off with the first of them to go.

    A feeder stands for the panel it feeds, so it is not counted beside it.
    """
    by_key = {circuit.pk: circuit for circuit in circuits}
    panels = {circuit.panel_id: circuit.panel for circuit in by_key.values()}
    found = []
    for circuit in by_key.values():
        ticked = [one for one in _upstream(circuit, by_key, panels) if one.backed_up]
        alone = circuit.kind == Circuit.Kind.FEEDER and fed_by(circuit) is None
        if ticked and (circuit.kind == Circuit.Kind.BRANCH or alone or circuit.pk in on):
            orders = [one.shed_order for one in ticked if one.shed_order is not None]
            found.append(Backed(circuit=circuit, order=min(orders, default=None)))
    return found


def _upstream(
    circuit: Circuit, by_key: Mapping[UUID, Circuit], panels: Mapping[UUID, Panel]
) -> list[Circuit]:
    """The circuit and the feeders above it, through lugs too."""
    chain: list[Circuit] = []
    here: Circuit | None = circuit
    while here is not None and here not in chain:
        chain.append(here)
        feeder = _feeder(here.panel, panels)
        here = by_key.get(feeder) if feeder else None
    return chain


def _feeder(panel: Panel, panels: Mapping[UUID, Panel]) -> UUID | None:
    for _turn in panels:
        before = panel.fed_through_id
        if panel.fed_from_id or before is None or before not in panels:
            break
        panel = panels[before]
    return panel.fed_from_id
