"""Everything the load page shows, put together once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from django.utils import formats, timezone
from django.utils.dateparse import parse_date
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.models import Site
from panels.models import Calculation, Home, Load, Shop
from panels.queries.premises import premises_at
from panels.rules.errors import UnknownEdition
from panels.services import calculations
from panels.services.adoptions import Basis, basis_for, jurisdiction
from panels.services.calculations import HOME_METHODS, Worked
from panels.services.days import Day, day_for
from panels.services.offers import Offer, offers

STATED_LATER = "–"


@dataclass(kw_only=True)
class LoadSheet:
    """The home, its loads, what comes of them, and what stands in the way."""

    site: Site
    premises: Home | Shop | None
    loads: list[Load]
    offers: list[Offer]
    kept: list[Calculation]
    jurisdiction: str
    on: dt.date
    why_then: str
    chosen: dict[str, Any]
    basis: Basis | None = None
    unknown_edition: str = ""
    fault: str = ""
    worked: list[Worked] = field(default_factory=list)

    @property
    def home(self) -> Home | None:
        return self.premises if isinstance(self.premises, Home) else None

    @property
    def shop(self) -> Shop | None:
        return self.premises if isinstance(self.premises, Shop) else None

    @property
    def last_two(self) -> list[Calculation]:
        """The two loads kept last, to be compared; empty where there are not two."""
        loads = [made for made in self.kept if made.is_load][:2]
        return loads if len(loads) == 2 else []

    @property
    def methods(self) -> list[str]:
        return [one.method for one in self.worked] or list(HOME_METHODS)

    @property
    def cells(self) -> list[tuple[str, str]]:
        """The title block: who decides here, by which edition, on which day."""
        edition = self.basis.edition.title if self.basis else _("not known")
        return [
            (_("Jurisdiction"), self.jurisdiction),
            (_("Edition"), edition),
            (_("In force on"), formats.date_format(self.on)),
        ]

    @property
    def cautions(self) -> list[str]:
        said = [text for one in self.worked if one.result for text in one.result.cautions]
        return list(dict.fromkeys(said))

    @property
    def confirm(self) -> list[str]:
        said = [text for one in self.worked if one.result for text in one.result.confirm]
        return list(dict.fromkeys(said))


def sheet_of(site: Site, asked: Mapping[str, str]) -> LoadSheet:
    """`asked` may name the day and an edition to look through; nothing is written."""
    asked_day = _day(asked.get("on", ""))
    day = Day(on=asked_day) if asked_day else day_for(site=site, now=timezone.now())
    sheet = LoadSheet(
        site=site,
        premises=premises_at(site),
        loads=list(site.loads.select_related("circuit__panel")),
        offers=offers(site),
        kept=list(site.calculations.select_related("made_by").defer("result", "inputs")[:20]),
        jurisdiction=jurisdiction(site),
        on=day.on,
        why_then=day.why,
        chosen={name: asked[name] for name in ("on", "edition", "stated_by") if name in asked},
    )
    _find_basis(sheet, asked)
    if sheet.basis and sheet.premises:
        _work_out(sheet, sheet.basis)
    return sheet


def _find_basis(sheet: LoadSheet, asked: Mapping[str, str]) -> None:
    try:
        sheet.basis = basis_for(
            site=sheet.site,
            on=sheet.on,
            edition=asked.get("edition"),
            stated_by=asked.get("stated_by") or STATED_LATER,
        )
    except UnknownEdition as unknown:
        sheet.unknown_edition = unknown.sentence


def _work_out(sheet: LoadSheet, basis: Basis) -> None:
    try:
        inputs = calculations.inputs_of(sheet.site)
        sheet.worked = calculations.work_out(inputs=inputs, basis=basis)
    except Refused as fault:
        sheet.fault = fault.sentence


def _day(text: str) -> dt.date | None:
    try:
        return parse_date(text)
    except ValueError:
        return None
