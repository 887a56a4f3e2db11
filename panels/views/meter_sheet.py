"""Everything the page of a meter's file shows, put together once."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any

from django.utils import formats
from django.utils.translation import gettext as _

from panels.models import MeterData
from panels.rules.meter.findings import power
from panels.rules.meter.hours import Month, by_hour, by_month
from panels.rules.meter.series import Reading
from panels.views.heat import Heat, heat

HOUR = 3600
ORDER = ("bars", "caution", "note")  # what is worst comes first


@dataclass(frozen=True, kw_only=True)
class MonthRow:
    """A month for people."""

    name: str
    energy: str
    peak: str
    peak_at: dt.datetime
    average: str


@dataclass(frozen=True, kw_only=True)
class MeterSheet:
    data: MeterData
    findings: list[dict[str, Any]]
    months: list[MonthRow]
    heat: Heat | None
    peak_at: dt.datetime
    average: str

    @property
    def cells(self) -> list[tuple[str, str]]:
        """The title block: what was read, how fine, from when to when."""
        data, zone = self.data, self.data.site.zone
        return [
            (_("From"), formats.date_format(data.first_at.astimezone(zone))),
            (_("To"), formats.date_format(data.end_at.astimezone(zone))),
            (_("Interval"), _("%(minutes)s min") % {"minutes": data.minutes}),
            (_("Readings"), f"{data.count:,}"),
        ]


def sheet_of(data: MeterData) -> MeterSheet:
    series, zone, unit = data.series, data.site.zone, data.power_unit
    peak = Reading(int(data.peak_at.timestamp()), data.demand_s, data.peak)
    at = data.peak_at.astimezone(zone)
    told = f"{data.peak_shown}, {formats.date_format(at, 'j M Y')} {at:%H:%M}"
    fine = data.interval_s <= HOUR
    return MeterSheet(
        data=data,
        findings=sorted(data.findings, key=lambda one: ORDER.index(one["severity"])),
        months=[_row(month, unit, zone) for month in by_month(series, zone)],
        heat=heat(by_hour(series, zone, peak), unit=unit, peak=told) if fine else None,
        peak_at=at,
        average=power(series.energy * HOUR / series.covered, unit),
    )


def _row(month: Month, unit: str, zone: dt.tzinfo) -> MonthRow:
    return MonthRow(
        name=formats.date_format(dt.date(month.year, month.month, 1), "YEAR_MONTH_FORMAT"),
        energy=f"{month.energy / 1000:,.0f} k{unit}h",
        peak=power(month.peak.power, unit),
        peak_at=dt.datetime.fromtimestamp(month.peak.start, zone),
        average=power(month.average, unit),
    )
