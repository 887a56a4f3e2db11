"""Everything the outage page shows, put together once."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from functools import cached_property

from django.http import QueryDict
from django.utils import timezone
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.models import Site
from panels.editions import EDITIONS
from panels.forms.outage import OutageForm
from panels.queries.standby import StandbyRecord, record_of
from panels.rules.cautions import cautions
from panels.rules.errors import UnknownEdition
from panels.rules.quantities import show
from panels.rules.standby.answer import KEY, OUTAGE
from panels.rules.standby.balance import Hour, hourly
from panels.rules.standby.description import outage_from
from panels.rules.standby.outage import Outage
from panels.rules.standby.shown import kva, kw
from panels.rules.working import Result
from panels.services.adoptions import Basis, basis_for
from panels.services.standby import Standby, describe
from panels.services.standby_sizing import Sized, sizings
from panels.views.load_sheet import STATED_LATER
from panels.views.outage_drawing import OutageDrawing, drawing
from panels.views.outage_sizes import SizeRow, size_label, size_row
from panels.views.outage_words import lasting, off, sentences

CAUTIONS = cautions("planning", "standby", "isolation")


@dataclass(frozen=True, kw_only=True)
class StageRow:
    """One stage of shedding as a row of the table."""

    off: str
    names: str
    lasts: str
    reaches: bool
    connected: str
    within_power: bool
    start: str
    motor: str
    within_surge: bool | None
    is_chosen: bool


@dataclass(frozen=True, kw_only=True)
class HourRow:
    """One hour of the table."""

    begins: dt.datetime
    kwh: dict[str, float]
    percent: float | None
    stage: int


@dataclass(kw_only=True)
class OutageSheet:
    """The site's record, what was asked, what comes of it, and what stands in the way."""

    site: Site
    record: StandbyRecord
    form: OutageForm
    standby: Standby | None = None
    outage: Outage | None = None
    basis: Basis | None = None
    unknown_edition: str = ""
    fault: str = ""
    sized: list[Sized] = field(default_factory=list)

    @cached_property
    def drawing(self) -> OutageDrawing | None:
        return drawing(self.outage) if self.outage else None

    @property
    def sentences(self) -> list[str]:
        return sentences(self.outage) if self.outage else []

    @property
    def hours(self) -> list[HourRow]:
        return list(map(_hour, hourly(self.outage))) if self.outage else []

    @property
    def sizes(self) -> list[SizeRow]:
        return list(map(size_row, self.sized))

    @property
    def stages(self) -> list[StageRow]:
        return [_row(self.outage, stage) for stage in self.outage.stages] if self.outage else []

    @cached_property
    def result(self) -> Result | None:
        """With every line, where the edition is known."""
        if not (self.outage and self.basis):
            return None
        return OUTAGE.answer(self.outage, self.basis.edition)

    @property
    def cautions(self) -> tuple[str, ...]:
        return CAUTIONS

    @property
    def editions(self) -> list[tuple[str, str]]:
        return [(edition.key, edition.title) for edition in EDITIONS.values()]

    @property
    def confirm(self) -> list[str]:
        results = [self.result, *(one.result for one in self.sized)]
        return list(dict.fromkeys(text for one in results if one for text in one.confirm))

    @property
    def kept_choices(self) -> list[tuple[str, str]]:
        """What on this page can be kept."""
        if not self.outage:
            return []
        sizes = [(one.key, size_label(one)) for one in self.sized if one.result]
        return [(KEY, _("The outage as chosen above")), *sizes]


def sheet_of(site: Site, asked: QueryDict) -> OutageSheet:
    """`asked` is the address; nothing is written."""
    record = record_of(site)
    today = timezone.now().astimezone(site.zone).date()
    form = OutageForm(asked, record=record, today=today, has_meter=site.meter_data.exists())
    sheet = OutageSheet(site=site, record=record, form=form)
    if not (record.backed and record.sources and form.is_valid()):
        return sheet
    try:
        sheet.standby = describe(site, record, form.asked)
        sheet.outage = outage_from(sheet.standby.inputs)
    except Refused as fault:
        sheet.fault = fault.sentence
        return sheet
    _find_basis(sheet, asked, today)
    if sheet.basis:
        edition, shed = sheet.basis.edition, sheet.outage.shed
        sheet.sized = sizings(site, sheet.standby, edition, shed=shed)
    return sheet


def _find_basis(sheet: OutageSheet, asked: QueryDict, today: dt.date) -> None:
    try:
        sheet.basis = basis_for(
            site=sheet.site, on=today, edition=asked.get("edition"), stated_by=STATED_LATER
        )
    except UnknownEdition as unknown:
        sheet.unknown_edition = unknown.sentence


def _row(outage: Outage, stage: int) -> StageRow:
    total = outage.connected(stage)
    start, motor = outage.starting(stage)
    limit = outage.surge_limit
    gone = [load for load in outage.let_go(stage) if load.shed_order == stage]
    return StageRow(
        off=off(stage),
        names=", ".join(dict.fromkeys(load.circuit or load.name for load in gone)),
        lasts=lasting(outage, outage.lasts(stage)),
        reaches=outage.lasts(stage) >= min(outage.to_until, outage.hours) - 1e-9,
        connected=show(kw(total)),
        within_power=total <= outage.power_limit,
        start=show(kva(start)) if motor else "",
        motor=motor.name if motor else "",
        within_surge=None if limit is None else start <= limit,
        is_chosen=stage == outage.shed,
    )


def _hour(hour: Hour) -> HourRow:
    kwh = {name: getattr(hour, name) / 1000 for name in ("load", "sun", "storage", "generator")}
    percent = None if hour.charge is None else hour.charge * 100
    return HourRow(begins=hour.begins, kwh=kwh, percent=percent, stage=hour.stage)
