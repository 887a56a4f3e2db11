"""The findings about a panel as a page shows them: alike ones together, each with its link."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlencode

from django.urls import reverse
from django.utils import formats, timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from panels.models import Panel
from panels.rules.check.checker import RULES, Report
from panels.rules.check.outcome import Finding, Outcome, Place
from panels.rules.errors import UnknownEdition
from panels.services.adoptions import Basis, jurisdiction
from panels.services.checks import checked
from panels.services.days import day_for

WHERE = {
    "circuit": "circuit", "panel": "panel-edit", "home": "load-home", "entrance": "service",
    "source": "source", "readings": "readings", "load": "load",
}  # fmt: skip
TITLES = {
    Outcome.FAIL: gettext_lazy("Fails"),
    Outcome.CANNOT_TELL: gettext_lazy("Cannot tell"),
    Outcome.PASS: gettext_lazy("Passes"),
    Outcome.NOT_APPLICABLE: gettext_lazy("Does not apply"),
}
MARKS = {
    Outcome.FAIL: "late", Outcome.CANNOT_TELL: "due", Outcome.PASS: "done",
    Outcome.NOT_APPLICABLE: "off",
}  # fmt: skip
OPEN, ALL = "open", "all"
SHOWN = {OPEN: (Outcome.FAIL, Outcome.CANNOT_TELL), ALL: tuple(Outcome)} | {
    outcome.value: (outcome,) for outcome in Outcome
}
FIRST_FAILURES = 8


@dataclass(frozen=True, kw_only=True)
class Row:
    """One sentence about several things, each leading to where it is put right, or all to one
    `url`."""

    sentence: str
    things: list[tuple[str, str]]

    @property
    def url(self) -> str:
        places = {url for _label, url in self.things}
        return places.pop() if len(places) == 1 and len(self.things) > 1 else ""


@dataclass(frozen=True, kw_only=True)
class Group:
    """What one rule found, of one outcome."""

    rule: str
    title: str
    cite: str
    confirm: str
    note: str
    rows: list[Row]


@dataclass(frozen=True, kw_only=True)
class Part:
    """All groups of one outcome."""

    outcome: str
    title: str
    mark: str
    count: int
    groups: list[Group]


@dataclass(kw_only=True)
class CheckSheet:
    """A panel's check; without a basis only the sentence that asks for the edition."""

    panel: Panel
    on: dt.date
    show: str
    rule: str
    chosen: str
    jurisdiction: str
    basis: Basis | None = None
    unknown_edition: str = ""
    report: Report | None = None
    beside: list[tuple[Panel, str]] = field(default_factory=list)

    @property
    def parts(self) -> list[Part]:
        if self.report is None:
            return []
        return [part_of(self.report, one, rule=self.rule) for one in SHOWN[self.show]]

    @property
    def tallies(self) -> list[tuple[int, str, str, str]]:
        """How many of each outcome: number, words, address, mark."""
        if self.report is None:
            return []
        counts, here = self.report.counts, reverse("panel-check", args=[self.panel.pk])
        return [
            (counts[one], str(TITLES[one]), f"{here}?{self._query(one)}", MARKS[one])
            for one in Outcome
        ]

    def _query(self, outcome: Outcome) -> str:
        asked = {"show": outcome.value, "rule": self.rule, "edition": self.chosen}
        return urlencode({name: value for name, value in asked.items() if value})

    @property
    def advice(self) -> list[Group]:
        if self.report is None or self.show not in (OPEN, ALL):
            return []
        found = [one for one in self.report.advice if self.rule in ("", one.rule)]
        return grouped(found, said=_advice)

    @property
    def rules(self) -> list[str]:
        """The short names to choose from, in the order of the list of rules."""
        return list(dict.fromkeys(one.id for one in RULES))

    @property
    def failures(self) -> list[tuple[Finding, str]]:
        """The first failures with their links, for the panel's own page."""
        if self.report is None:
            return []
        return [(one, url_of(one.place)) for one in self.report.of(Outcome.FAIL)[:FIRST_FAILURES]]

    @property
    def in_short(self) -> str:
        return in_short(self.report) if self.report else ""

    @property
    def cells(self) -> list[tuple[str, str]]:
        edition = self.basis.edition.title if self.basis else _("not known")
        return [
            (_("Jurisdiction"), self.jurisdiction),
            (_("Edition"), edition),
            (_("In force on"), formats.date_format(self.on)),
        ]


def sheet_of(panel: Panel, asked: Mapping[str, Any], *, alone: bool = False) -> CheckSheet:
    """`asked` may name an edition to look through, which outcomes to show, and one rule; the
    panels beside it are told in short, unless it is to stand `alone`."""
    site = panel.site
    show = asked.get("show", OPEN)
    sheet = CheckSheet(
        panel=panel,
        on=day_for(site=site, now=timezone.now()).on,
        show=show if show in SHOWN else OPEN,
        rule=asked.get("rule", ""),
        chosen=asked.get("edition", ""),
        jurisdiction=jurisdiction(site),
    )
    try:
        edition = sheet.chosen or None
        found = checked(site=site, on=sheet.on, edition=edition, also=panel, alone=alone)
    except UnknownEdition as unknown:
        sheet.unknown_edition = unknown.sentence
        return sheet
    sheet.basis, sheet.report = found.basis, found.reports[panel.pk]
    if not alone:
        others = site.panels.filter(pk__in=found.reports).exclude(pk=panel.pk)
        sheet.beside = [(other, in_short(found.reports[other.pk])) for other in others]
    return sheet


def in_short(report: Report) -> str:
    fails, open_ones = report.counts[Outcome.FAIL], report.counts[Outcome.CANNOT_TELL]
    failing = ngettext("%(n)s fails", "%(n)s fail", fails) % {"n": fails}
    return _("%(failing)s, %(open)s cannot be told") % {"failing": failing, "open": open_ones}


def part_of(report: Report, outcome: Outcome, *, rule: str = "") -> Part:
    found = [one for one in report.of(outcome) if rule in ("", one.rule)]
    return Part(
        outcome=outcome.value,
        title=str(TITLES[outcome]),
        mark=MARKS[outcome],
        count=len(found),
        groups=grouped(found, said=_sentence),
    )


def grouped(found: Iterable[Finding], *, said: Any) -> list[Group]:
    """By rule in its order, and within one by what is said."""
    groups: dict[str, list[Finding]] = {}
    for one in found:
        groups.setdefault(one.key, []).append(one)
    return [_group(members, said) for members in groups.values()]


def _group(members: list[Finding], said: Any) -> Group:
    rows: dict[str, list[tuple[str, str]]] = {}
    for one in members:
        rows.setdefault(said(one), []).append((one.label, url_of(one.place)))
    return Group(
        rule=members[0].rule,
        title=members[0].title,
        cite="; ".join(dict.fromkeys(one.cite for one in members)),
        confirm=" ".join(dict.fromkeys(one.confirm for one in members if one.confirm)),
        note=members[0].note,
        rows=[Row(sentence=sentence, things=things) for sentence, things in rows.items()],
    )


def url_of(place: Place) -> str:
    """The page where what was found is put right."""
    return reverse(WHERE[place.kind], args=[place.id])


def _sentence(finding: Finding) -> str:
    return finding.sentence


def _advice(finding: Finding) -> str:
    return finding.advice
