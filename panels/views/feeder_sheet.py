"""Each panel of a site with what it carries, as the page of feeders shows it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext as _

from contractor.models import Site
from panels.rules.feeders import answer
from panels.rules.feeders.answer import BY_METHOD, Loaded
from panels.services import trees
from panels.views.feeder_bars import Bars, bars
from panels.views.tree_sheet import Places, Told, TreeSheet, sheet_of


@dataclass(frozen=True, kw_only=True)
class Row:
    """A panel: its bars, its findings, and its circuits without a load on record."""

    loaded: Loaded
    url: str
    above: str
    bars: Bars
    told: list[Told]
    unknown: list[tuple[str, str]]

    @property
    def name(self) -> str:
        return self.loaded.box.name

    @property
    def basis(self) -> str:
        if self.loaded.basis == BY_METHOD:
            return _("Judged by the dwelling’s calculated load; the legs show what is connected.")
        return _("Judged by what is connected, without demand factors.")


def feeder_sheet(site: Site, asked: Mapping[str, str]) -> TreeSheet:
    sheet = sheet_of(
        site, asked, lambda basis: trees.carried(site=site, basis=basis), method=answer.KEY
    )
    if sheet.worked and (study := sheet.worked.feeders):
        sheet.rows = [_row(loaded, study, sheet.places) for loaded in study.panels]
    return sheet


def _row(loaded: Loaded, study: answer.Study, places: Places) -> Row:
    name = loaded.box.name
    return Row(
        loaded=loaded,
        url=places.panel_url(name),
        above=study.site.above[name] or "",
        bars=bars(loaded),
        told=places.told(loaded.findings),
        unknown=[(told, _load_url(told, places)) for told in loaded.carried.unknown],
    )


def _load_url(told: str, places: Places) -> str:
    add = reverse("load-add", args=[places.site.pk])
    circuit = places.circuit_named(told)
    return f"{add}?circuit={circuit.pk}" if circuit else add
