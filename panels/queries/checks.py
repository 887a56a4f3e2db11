"""What is on record of a site's panels, as the record checker takes it?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from uuid import UUID

from contractor.models import Site
from panels.models import (
    Calculation,
    Circuit,
    Home,
    Load,
    Panel,
    Reading,
    ServiceEntrance,
    Source,
)
from panels.queries import facts
from panels.rules.check.facts import Breaker, Connected, Record, Torque

PARALLEL = (Source.Kind.SOLAR, Source.Kind.STORAGE)


def records_of(site: Site, *, on: dt.date, also: Panel | None = None) -> dict[UUID, Record]:
    """Everything on record about each panel in use at the site, and about `also`; the number of
    queries does not grow with panels, breakers or loads."""
    rows = Panel.objects.filter(site=site).select_related("fed_from__panel", "fed_through")
    panels = {one.pk: one for one in rows if one.retired_at is None or one.pk == _pk(also)}
    breakers = _breakers(panels)
    sources = list(Source.objects.filter(site=site, kind__in=PARALLEL).select_related("circuit"))
    home = facts.dwelling(Home.objects.filter(site=site).first())
    entrance = facts.entrance(ServiceEntrance.objects.filter(site=site).first())
    torques = _torques(panels)
    calculated = _calculated(site)
    found = {}
    for key, panel in panels.items():
        at_service = panel.upstream_id is None
        fed_from, feeder_a = facts.feed(panel, panels)
        found[key] = Record(
            site=str(site.pk),
            on=on,
            panel=facts.plate(panel, fed_from=fed_from, feeder_a=feeder_a),
            breakers=tuple(breakers[key]),
            elsewhere=tuple(
                one for other, rest in breakers.items() if other != key for one in rest
            ),
            sources=tuple(_connected(sources, key, panels)),
            home=home,
            entrance=entrance,
            torques=tuple(torques.get(key, ())),
            calculated_a=calculated if at_service else None,
        )
    return found


def _breakers(panels: Mapping[UUID, Panel]) -> dict[UUID, list[Breaker]]:
    loads: dict[UUID, list[Load]] = {}
    for load in Load.objects.filter(circuit__panel__in=panels):
        if load.circuit_id:
            loads.setdefault(load.circuit_id, []).append(load)
    found: dict[UUID, list[Breaker]] = {key: [] for key in panels}
    rows = Circuit.objects.filter(panel__in=panels).select_related("feeds").order_by("slots")
    for circuit in rows:
        panel = panels[circuit.panel_id]
        found[panel.pk].append(facts.breaker(circuit, panel, loads.get(circuit.pk, ())))
    return found


def _connected(
    sources: Iterable[Source], key: UUID, panels: Mapping[UUID, Panel]
) -> Iterable[Connected]:
    """The sources that come in over this panel's busbar, its own and those of panels below.

    One from below stands where its feeder stands, which the record does not tell.
    """
    for source in sources:
        entry = _entry(source, key, panels)
        if entry is None:
            continue
        circuit, own = entry
        yield Connected(
            id=str(source.pk), name=source.name, kind=source.kind, rated_a=source.rated_a,
            circuit=str(circuit.pk) if circuit else None,
            breaker_a=source.circuit.rating_a if source.circuit else None,
            position=source.position if own else "", labelled=source.labelled,
        )  # fmt: skip


def _entry(
    source: Source, key: UUID, panels: Mapping[UUID, Panel]
) -> tuple[Circuit | None, bool] | None:
    """The breaker of panel `key` a source comes in by, and whether it is its own; None: it does
    not. One whose breaker is not recorded counts at the panel the service feeds."""
    circuit = source.circuit
    if circuit is None or circuit.panel_id not in panels:
        return (None, True) if panels[key].upstream_id is None else None
    at, seen = panels[circuit.panel_id], set[UUID]()
    while at.pk != key and at.pk not in seen:
        seen.add(at.pk)
        above = panels.get(at.upstream_id) if at.upstream_id else None
        if above is None:
            return None
        circuit, at = at.fed_from or circuit, above
    return (circuit, not seen) if at.pk == key else None


def _torques(panels: Mapping[UUID, Panel]) -> dict[UUID, list[Torque]]:
    rows = Reading.objects.filter(panel__in=panels, kind=Reading.Kind.TORQUE)
    latest: dict[tuple[UUID, str], Reading] = {}
    for reading in rows.order_by("taken_at"):
        latest[reading.panel_id, reading.between.casefold()] = reading
    found: dict[UUID, list[Torque]] = {}
    for (panel, _where), one in latest.items():
        told = Torque(
            terminal=one.between, value=one.value, marked_value=one.marked_value,
            instrument=one.instrument,
        )  # fmt: skip
        found.setdefault(panel, []).append(told)
    return found


def _calculated(site: Site) -> float | None:
    """The current of the latest load calculation kept for the site, A."""
    kept = Calculation.objects.filter(site=site, amps__isnull=False).order_by("-made_at")
    return kept.values_list("amps", flat=True).first()


def _pk(panel: Panel | None) -> UUID | None:
    return panel.pk if panel else None
