"""Calculate a home's load by a method and an edition, and keep the calculation as it was made."""

from __future__ import annotations

import datetime as dt
import hashlib
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.models import Person, Site
from contractor.units import Q
from panels import editions, rules
from panels.models import Calculation, Load, Shop
from panels.queries.premises import premises_of
from panels.rules import description, questions
from panels.rules.methods import METHODS
from panels.rules.quantities import AMPERE, VA
from panels.rules.questions import LOADS
from panels.rules.report import Premises
from panels.rules.shop import method as shop
from panels.rules.working import Line, Result, from_plain, to_plain
from panels.services.adoptions import Basis, basis_for
from panels.services.days import day_for
from panels.services.load import described
from panels.services.shop import described_shop

HOME_METHODS = ("standard", "optional")
EXISTING = "existing"
HEADLINES = (
    "load", "current", "continuous_load", "continuous", "rating", "left", "neutral",
    "neutral_current",
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Worked:
    """One method worked through: its result, or why it does not fit."""

    method: str
    title: str
    result: Result | None
    objection: str = ""

    @property
    def headlines(self) -> list[Line]:
        return headlines(self.result) if self.result else []


def inputs_of(site: Site) -> dict[str, Any]:
    """The home or the shop in plain values. Raises Refused before its facts are on record."""
    premises, loads = premises_of(site.pk), Load.objects.filter(site=site)
    if premises is None:
        raise no_home()
    return (
        described_shop(premises, loads)
        if isinstance(premises, Shop)
        else described(premises, loads)
    )


def no_home() -> Refused:
    return Refused("no_home", _("Record the floor area and the circuits of this home first."))


def work_out(*, inputs: Mapping[str, Any], basis: Basis) -> list[Worked]:
    """Both methods side by side, and that for existing dwellings where something is added; the
    general rules for a shop."""
    if "occupancy" in inputs:
        result = questions.answer(shop.KEY, inputs, basis.edition)
        return [Worked(method=shop.KEY, title=shop.TITLE, result=result)]
    premises = description.from_plain(inputs)
    adding = any(load.get("new") for load in inputs["loads"])
    methods = [*HOME_METHODS, EXISTING] if adding else HOME_METHODS
    return [_worked(key, premises, basis) for key in methods]


def _worked(key: str, premises: Premises, basis: Basis) -> Worked:
    method = METHODS[key]
    objection = method.applies(premises, basis.edition) or ""
    result = None if objection else rules.calculate(key, premises, basis.edition)
    return Worked(method=key, title=method.title, result=result, objection=objection)


def calculate(
    *, site: Site, method: str, by: Person, now: dt.datetime, edition: str | None = None,
    stated_by: str = "", on: dt.date | None = None, purpose: str = "",
    id: uuid.UUID | None = None,
) -> Calculation:  # fmt: skip
    """Calculate the load of the home on record, and keep it. Raises as `keep` does."""
    return keep(
        site=site, method=method, inputs=inputs_of(site), by=by, now=now, edition=edition,
        stated_by=stated_by, on=on, purpose=purpose, id=id,
    )  # fmt: skip


@transaction.atomic
def keep(
    *, site: Site, method: str, inputs: Mapping[str, Any], by: Person, now: dt.datetime,
    edition: str | None = None, stated_by: str = "", on: dt.date | None = None,
    purpose: str = "", id: uuid.UUID | None = None,
) -> Calculation:  # fmt: skip
    """Answer a question about a site from its plain `inputs`, and keep the answer.

    `on` is the day whose edition counts; unless said the day the open permit there was applied
    for, else today. Raises BadDescription where the inputs cannot be worked with, and
    UnknownEdition where no adoption is on record and none was stated.
    """
    on = on or day_for(site=site, now=now).on
    basis = basis_for(site=site, on=on, edition=edition, stated_by=stated_by)
    result = questions.answer(method, inputs, basis.edition)
    calculation = made(
        site=site, method=method, inputs=inputs, result=result, basis=basis, on=on, by=by,
        now=now, purpose=purpose, id=id,
    )  # fmt: skip
    calculation.save(force_insert=True)
    return calculation


def made(
    *, site: Site, method: str, inputs: Mapping[str, Any], result: Result, basis: Basis,
    on: dt.date, by: Person, now: dt.datetime, purpose: str = "", id: uuid.UUID | None = None,
) -> Calculation:  # fmt: skip
    """The calculation with this result, not in the database yet."""
    return Calculation(
        id=id or uuid.uuid4(),
        site=site,
        method=method,
        edition=basis.edition.key,
        jurisdiction=basis.jurisdiction,
        edition_by=basis.stated,
        on=on,
        purpose=" ".join(purpose.split())[:200],
        inputs=dict(inputs),
        result=to_plain(result),
        **in_short(result),
        made_by=by,
        made_at=now,
        software=software(),
    )


def in_short(result: Result) -> dict[str, Any]:
    """What lists show of a result: its headlines in words, and a load's VA and amperes."""
    told = "; ".join(f"{line.label} {line.shown}" for line in headlines(result))
    short: dict[str, Any] = {"summary": _cut(told)}
    if result.method in LOADS:
        short["total_va"] = round(float(Q(result.value("load")).m_as(VA)), 3)
        short["amps"] = round(float(Q(result.value("current")).m_as(AMPERE)), 3)
        load, current = result.line("load").shown, result.line("current").shown
        short["summary"] = f"{load}, {current}"
    return short


def _cut(told: str, most: int = 200) -> str:
    return told if len(told) <= most else f"{told[: most - 1]}…"


def headlines(result: Result) -> list[Line]:
    """The lines asked for first: of a load its total, current and rating; else the totals."""
    known = {line.key: line for line in result.lines}
    if result.method in LOADS:
        return [known[key] for key in HEADLINES if key in known]
    return [line for line in known.values() if line.total]


def result_of(calculation: Calculation) -> Result:
    """The result as it was kept, not calculated again."""
    return from_plain(calculation.result)


@dataclass(frozen=True)
class Compared:
    """A line in two calculations; a value is empty where the line is not in that one."""

    label: str
    was: str
    now: str
    total: bool
    section: str = ""

    @property
    def differs(self) -> bool:
        return self.was != self.now


def compared(earlier: Calculation, later: Calculation) -> list[Compared]:
    """Line by line, in the order of the later one, then what only the earlier has."""
    was, now = result_of(earlier), result_of(later)
    before = {line.key: line for line in was.lines}
    after = {line.key for line in now.lines}
    rows = []
    for section in now.sections:
        for line in section.lines:
            shown = before[line.key].shown if line.key in before else ""
            rows.append(Compared(line.label, shown, line.shown, line.total, section.title))
    for section in was.sections:
        gone = [line for line in section.lines if line.key not in after]
        rows += [Compared(one.label, one.shown, "", one.total, section.title) for one in gone]
    return rows


@cache
def software() -> str:
    """Names the text of the rules and their values, so that it can be found again."""
    read = hashlib.sha256()
    for package in (rules, editions):
        folder = Path(package.__path__[0])
        for path in sorted([*folder.rglob("*.py"), *folder.rglob("*.csv")]):
            read.update(path.relative_to(folder).as_posix().encode() + path.read_bytes())
    return f"rules {read.hexdigest()[:12]}"
