"""Everything a page about a conductor shows, put together once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.utils import formats
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.forms.attempt import show_refusal
from panels.editions import EDITIONS
from panels.forms.conductor import ConductorForm
from panels.models import Circuit
from panels.rules import questions
from panels.rules.edition import Edition
from panels.rules.errors import UnknownEdition
from panels.rules.wire import ampacity, conductor, drop
from panels.rules.working import Line, Result
from panels.services.adoptions import Basis, basis_for
from panels.services.conductors import Carries, carried_by, recorded
from panels.services.days import Day, day_for

STATED_LATER = "–"
START = {"metal": "cu", "phases": "1", "volts": "120", "raceway": "pvc", "drop_limit": 3}


@dataclass(kw_only=True)
class Answered:
    """A question with what it was given and what came of it."""

    method: str
    inputs: Mapping[str, Any]
    result: Result

    @property
    def title(self) -> str:
        return self.result.method_title

    @property
    def headlines(self) -> list[Line]:
        return [line for line in self.result.lines if line.total]

    @property
    def failing(self) -> list[Line]:
        """The smaller sizes, nearest first, each with its reasons."""
        return [line for line in self.result.lines if line.key.startswith("size_")]


@dataclass(kw_only=True)
class ConductorSheet:
    """The answers there are, the first the one asked for most; and what stands in the way."""

    form: ConductorForm
    basis: Basis | None = None
    day: Day | None = None
    carries: Carries | None = None
    unknown_edition: str = ""
    chosen_edition: str = ""
    answers: list[Answered] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    @property
    def cells(self) -> list[tuple[str, str]]:
        """The title block: who decides here, and by which edition."""
        if self.basis is None:
            return [(_("Edition"), _("not known"))]
        return [
            (_("Jurisdiction"), self.basis.jurisdiction),
            (_("Edition"), self.basis.edition.title),
            (_("In force on"), formats.date_format(self.day.on) if self.day else ""),
        ]

    @property
    def installed(self) -> Answered | None:
        return next((one for one in self.answers if one.method == ampacity.KEY), None)

    @property
    def fits(self) -> bool | None:
        """Whether the installed conductor passes; None where none is or nothing is asked of it."""
        lines = self.installed.result.lines if self.installed else ()
        verdict = next((line.value for line in lines if line.key == "verdict"), None)
        return None if verdict is None else verdict == "passes"

    @property
    def failing(self) -> list[Line]:
        lines = self.installed.result.lines if self.installed else ()
        return [line for line in lines if line.value == "fails" and not line.total]

    @property
    def cautions(self) -> list[str]:
        return list(dict.fromkeys(text for one in self.answers for text in one.result.cautions))

    @property
    def confirm(self) -> list[str]:
        return list(dict.fromkeys(text for one in self.answers for text in one.result.confirm))

    @property
    def methods(self) -> list[tuple[str, str]]:
        return [(one.method, one.title) for one in self.answers]

    def inputs(self, method: str) -> Mapping[str, Any]:
        return next(one.inputs for one in self.answers if one.method == method)


def sheet_by_itself(asked: Mapping[str, str]) -> ConductorSheet:
    """What is asked in an address, by the edition named there."""
    sheet = ConductorSheet(form=ConductorForm(asked or None, initial=START))
    _work_out(sheet, EDITIONS.get(asked.get("edition", "")))
    return sheet


def sheet_of(circuit: Circuit, asked: Mapping[str, str], now: dt.datetime) -> ConductorSheet:
    """What the record says of a circuit, or what an address says in its place."""
    carries = carried_by(circuit)
    known = recorded(circuit, carries)
    said = asked if "metal" in asked else known
    form = ConductorForm(said if "metal" in said else None, initial=known, adopted=True)
    sheet = ConductorSheet(form=form, carries=None if said is asked else carries)
    site = circuit.panel.site
    sheet.day = day_for(site=site, now=now)
    chosen = sheet.chosen_edition = _known(asked.get("edition", ""))
    try:
        sheet.basis = basis_for(
            site=site,
            on=sheet.day.on,
            edition=chosen or None,
            stated_by=STATED_LATER,
        )
    except UnknownEdition as unknown:
        sheet.unknown_edition = unknown.sentence
    _work_out(sheet, sheet.basis.edition if sheet.basis else None)
    return sheet


def _known(edition: str) -> str:
    return edition if edition in EDITIONS else ""


def _work_out(sheet: ConductorSheet, edition: Edition | None) -> None:
    """The installed conductor checked, its voltage drop, and the smallest that passes."""
    form = sheet.form
    if not form.is_bound or not form.is_valid() or edition is None:
        return
    has_size, has_length = form.cleaned_data["size"], form.cleaned_data["length"]
    _answer(sheet, edition, conductor.KEY, form.conductor)
    if has_size:
        _answer(sheet, edition, ampacity.KEY, form.installed)
    if has_size and has_length and form.amperes:
        _answer(sheet, edition, drop.KEY, lambda: _with_current(form))


def _with_current(form: ConductorForm) -> dict[str, Any]:
    return {**form.run(), "current": f"{form.amperes:g} A"}


def _answer(
    sheet: ConductorSheet, edition: Edition, method: str, given: Callable[[], dict[str, Any]]
) -> None:
    inputs = given()
    try:
        result = questions.answer(method, inputs, edition)
    except Refused as refusal:
        form = sheet.form
        if any(name in form.fields for name in refusal.fields):
            if not form.errors:  # the same slip would be told again by the next question
                show_refusal(form, refusal)
        elif refusal.sentence not in sheet.faults:
            sheet.faults.append(refusal.sentence)
    else:
        sheet.answers.append(Answered(method=method, inputs=inputs, result=result))
