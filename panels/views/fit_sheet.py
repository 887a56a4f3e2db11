"""Everything the page on a proposed addition shows, put together once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils import formats, timezone
from django.utils.dateparse import parse_date
from django.utils.translation import gettext as _

from contractor.models import Site
from contractor.units import Q, ureg
from panels.rules.errors import UnknownEdition
from panels.rules.quantities import show
from panels.rules.working import Line, Result
from panels.services.adoptions import Basis, basis_for, jurisdiction
from panels.services.days import day_for

STATED_LATER = "–"


@dataclass(frozen=True, kw_only=True)
class Row:
    """A method in the table: what it leaves, and its ways out."""

    key: str
    title: str
    lines: Mapping[str, Line]

    @property
    def fits(self) -> bool:
        return "none" in self.lines

    @property
    def left(self) -> Line:
        return self.lines["left"]

    @property
    def load(self) -> Line:
        return self.lines["load"]

    @property
    def short(self) -> str:
        """How much is missing, as an amount above zero."""
        left = self.left.value
        return "" if self.fits or not isinstance(left, ureg.Quantity) else show(Q(-left))


def rows(result: Result) -> list[Row]:
    """The methods that apply, in the order of the result."""
    known = {line.key: line for line in result.lines}
    found = []
    for section in result.sections:
        key = section.lines[0].key.removesuffix("_before")
        if f"{key}_left" in known and f"{key}_before" in known:
            keys = ("left", "load", "current", "none", "set_point", "largest", "service")
            lines = {name: known[f"{key}_{name}"] for name in keys if f"{key}_{name}" in known}
            found.append(Row(key=key, title=section.title, lines=lines))
    return found


def objections(result: Result) -> list[Line]:
    return [line for line in result.lines if line.key.endswith("_objection")]


@dataclass(frozen=True, kw_only=True)
class Place:
    """By which edition, on which day, and what stands in the way of knowing."""

    site: Site
    on: dt.date
    basis: Basis | None
    unknown: str

    @property
    def cells(self) -> list[tuple[str, Any]]:
        """The title block: who decides here, by which edition, on which day."""
        return [
            (_("Jurisdiction"), jurisdiction(self.site)),
            (_("Edition"), self.basis.edition.title if self.basis else _("not known")),
            (_("In force on"), formats.date_format(self.on)),
        ]


def place_of(site: Site, asked: Mapping[str, str]) -> Place:
    """`asked` may name the day and an edition to look through."""
    on = _day(asked.get("on", "")) or day_for(site=site, now=timezone.now()).on
    basis, unknown = None, ""
    try:
        basis = basis_for(
            site=site,
            on=on,
            edition=asked.get("edition") or None,
            stated_by=asked.get("stated_by") or STATED_LATER,
        )
    except UnknownEdition as fault:
        unknown = fault.sentence
    return Place(site=site, on=on, basis=basis, unknown=unknown)


def _day(text: str) -> dt.date | None:
    try:
        return parse_date(text)
    except ValueError:
        return None
