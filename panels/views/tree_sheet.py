"""What the pages of a site's tree share: by which edition, and where each thing is put right."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.urls import reverse
from django.utils import formats, timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from contractor.errors import Refused
from contractor.models import Site
from panels.models import Calculation, Circuit, Panel
from panels.rules.errors import UnknownEdition
from panels.rules.feeders.finding import Finding, State
from panels.services.adoptions import Basis, basis_for, jurisdiction
from panels.services.days import day_for
from panels.services.trees import Worked

MARKS = {State.PASS: "done", State.FAIL: "late", State.UNKNOWN: "due"}
WORDS = {
    "panel": gettext_lazy("panel rating"),
    "main": gettext_lazy("main breaker"),
    "device": gettext_lazy("feeder breaker"),
    "bus": gettext_lazy("bus"),
    "conductor": gettext_lazy("conductors"),
    "protection": gettext_lazy("protection of the conductors"),
    "secondary": gettext_lazy("transformer secondary"),
    "rating": gettext_lazy("short-circuit rating"),
    "breaker": gettext_lazy("breaker"),
    "breakers": gettext_lazy("breakers"),
    "disconnect": gettext_lazy("service disconnect"),
}
ORDER = (State.FAIL, State.UNKNOWN, State.PASS)


@dataclass(frozen=True, kw_only=True)
class Told:
    """A finding with its mark, and the page where what is missing is recorded."""

    finding: Finding
    url: str

    @property
    def mark(self) -> str:
        return MARKS[self.finding.state]

    @property
    def what(self) -> str:
        return str(WORDS[self.finding.check])


@dataclass(frozen=True, kw_only=True)
class Places:
    """Where each panel and breaker of the record has its page."""

    site: Site
    panels: Mapping[str, Panel]
    circuits: Mapping[tuple[str, str], Circuit]

    def panel_url(self, name: str) -> str:
        return reverse("panel", args=[self.panels[name].pk])

    def told(self, findings: Sequence[Finding]) -> list[Told]:
        """What fails first, then what nobody can tell."""
        ordered = sorted(findings, key=lambda finding: ORDER.index(finding.state))
        return [Told(finding=one, url=self._url(one)) for one in ordered]

    def circuit_named(self, told: str) -> Circuit | None:
        """The circuit of "Garage 1 Bench", or of "Garage 1 Bench (Saw)"."""
        for (panel, place), circuit in self.circuits.items():
            if told.startswith(f"{panel} {place} {circuit.name}".strip()):
                return circuit
        return None

    def _url(self, finding: Finding) -> str:
        if finding.record == "the load":
            return reverse("load", args=[self.site.pk])
        circuit = self.circuits.get((self._home_of(finding), finding.at)) if finding.at else None
        if circuit is not None:
            return reverse("circuit", args=[circuit.pk])
        panel = self.panels.get(finding.panel)
        of_service = finding.check == "conductor" and panel and panel.upstream_id is None
        if panel is None or of_service or "figure" in finding.record:
            return reverse("service", args=[self.site.pk])
        return reverse("panel-edit", args=[panel.pk])

    def _home_of(self, finding: Finding) -> str:
        """The panel the named breaker sits in: of a feeder's the one above, else its own."""
        panel = self.panels.get(finding.panel)
        if finding.check in ("device", "conductor", "protection") and panel and panel.fed_from:
            return panel.fed_from.panel.name
        return finding.panel


def places_of(site: Site) -> Places:
    panels = site.panels.filter(retired_at=None).select_related("fed_from__panel", "fed_through")
    by_key = {panel.pk: panel for panel in panels}
    circuits = {}
    for circuit in Circuit.objects.filter(panel__in=by_key).order_by("slots"):
        panel = by_key[circuit.panel_id]
        circuits[panel.name, circuit.seat_in(panel.frame).text] = circuit
    by_name = {panel.name: panel for panel in by_key.values()}
    return Places(site=site, panels=by_name, circuits=circuits)


@dataclass(kw_only=True)
class TreeSheet:
    """A site's study with its edition; without either, the sentence that says what is missing."""

    site: Site
    on: dt.date
    chosen: str
    jurisdiction: str
    places: Places
    kept: list[Calculation]
    basis: Basis | None = None
    unknown_edition: str = ""
    fault: str = ""
    worked: Worked | None = None
    rows: list[Any] = field(default_factory=list)

    @property
    def cells(self) -> list[tuple[str, str]]:
        edition = self.basis.edition.title if self.basis else _("not known")
        return [
            (_("Jurisdiction"), self.jurisdiction),
            (_("Edition"), edition),
            (_("In force on"), formats.date_format(self.on)),
        ]

    @property
    def tallies(self) -> list[tuple[int, str, str]]:
        """How many fail, cannot be told and fit, with their marks."""
        told = [one for row in self.rows for one in row.told]
        words = {
            State.FAIL: _("do not fit"),
            State.UNKNOWN: _("cannot be told"),
            State.PASS: _("fit"),
        }
        return [
            (sum(one.finding.state is state for one in told), words[state], MARKS[state])
            for state in ORDER
        ]


def sheet_of(
    site: Site, asked: Mapping[str, str], work: Callable[[Basis], Worked], *, method: str
) -> TreeSheet:
    """`asked` may name an edition to look through; `work` is the study by it."""
    made = site.calculations.filter(method=method).select_related("made_by")
    sheet = TreeSheet(
        site=site,
        on=day_for(site=site, now=timezone.now()).on,
        chosen=asked.get("edition", ""),
        jurisdiction=jurisdiction(site),
        places=places_of(site),
        kept=list(made.defer("result", "inputs")[:20]),
    )
    try:
        sheet.basis = basis_for(
            site=site, on=sheet.on, edition=sheet.chosen or None, stated_by=_("looked through")
        )
        sheet.worked = work(sheet.basis)
    except UnknownEdition as unknown:
        sheet.unknown_edition = unknown.sentence
    except Refused as refused:
        sheet.fault = refused.sentence
    return sheet
