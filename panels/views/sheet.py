"""Everything a panel's page shows, put together once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils.translation import gettext as _

from panels.directory.changes import Change
from panels.models import Circuit, DirectoryRevision, Panel, Source
from panels.queries import records
from panels.queries.glance import second_look
from panels.queries.readings import Judged, judged
from panels.rules.check.outcome import Finding
from panels.rules.layout import System
from panels.services import directory
from panels.views import drawn
from panels.views.one_line import OneLine, one_line


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """A panel's page: its plate, its schedule, and what goes with them."""

    panel: Panel
    is_editable: bool
    whereabouts: str
    cells: list[tuple[str, Any]]
    schedule: drawn.Schedule
    breakers: int
    free: int
    drawing: OneLine
    sources: list[Source]
    readings: list[Judged]
    glance: list[tuple[Circuit | None, Finding]]
    revision: DirectoryRevision | None
    differences: list[Change]
    lugs_to: list[Panel]


def sheet_of(panel: Panel, *, editable: bool) -> Sheet:
    circuits = list(records.circuits_of(panel))
    found = drawn.seated(panel, circuits)
    live = list(records.panels_of(panel.site))
    sources = list(records.sources_of(panel.site))
    record = reverse("panel-record", args=[panel.pk])
    taken = sum(len(seat.spaces) for _circuit, seat in found if not seat.poles[0].half)
    tandems = {pole.space for _circuit, seat in found for pole in seat.poles if pole.half}
    revision = directory.latest(panel)
    return Sheet(
        panel=panel,
        is_editable=editable,
        whereabouts=whereabouts(panel),
        cells=cells(panel),
        schedule=drawn.schedule(
            panel, found, space_url=lambda mark: f"{record}?space={mark}" if editable else ""
        ),
        breakers=len(circuits),
        free=panel.spaces - taken - len(tandems),
        drawing=one_line(live, sources, here=panel),
        sources=sources,
        readings=[judged(reading) for reading in records.readings_of(panel)],
        glance=second_look(panel, circuits),
        revision=revision,
        differences=directory.differences_from(revision, panel) if revision else [],
        lugs_to=[one for one in live if one.fed_through_id == panel.pk],
    )


def cells(panel: Panel) -> list[tuple[str, Any]]:
    """The nameplate as it stands in the title block; what is not recorded is left out."""
    amps = _("%(amps)s A")
    rating = amps % {"amps": panel.rating_a}
    if panel.bus_a != panel.rating_a:
        rating += _(", bus %(bus)s A") % {"bus": panel.bus_a}
    return [
        (_("Rating"), rating),
        (_("Main"), amps % {"amps": panel.main_a} if panel.main_a else _("main lugs only")),
        (_("System"), System(panel.system).label),
        (_("Spaces"), panel.spaces),
        (_("Fed from"), fed_from(panel)),
    ]


def whereabouts(panel: Panel) -> str:
    """Where it is and how it is set, as one line."""
    how = str(panel.get_mounting_display())
    parts = [panel.location, how, _("outdoors") if panel.outdoors else ""]
    return ", ".join(part for part in parts if part)


def fed_from(panel: Panel) -> str:
    if panel.fed_from:
        there = panel.fed_from.panel
        place = panel.fed_from.seat_in(there.frame).text
        said = {"panel": there.name, "place": place, "amps": panel.fed_from.rating_a}
        return _("%(panel)s, %(place)s, %(amps)s A") % said
    if panel.fed_through:
        return _("feed-through lugs of %(panel)s") % {"panel": panel.fed_through.name}
    return _("the service")
