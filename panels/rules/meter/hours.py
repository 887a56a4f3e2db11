"""How did the load lie over the days and hours of a year, and over its months?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from panels.rules.meter.series import Reading, Series

HOURS = 24
LONGEST = 366  # days shown at once


@dataclass(frozen=True, kw_only=True)
class Month:
    """A month of readings by the clock of the site. `energy` in Wh (or VAh)."""

    year: int
    month: int
    energy: float
    covered: int
    peak: Reading

    @property
    def average(self) -> float:
        return self.energy * 3600 / self.covered


@dataclass(frozen=True, kw_only=True)
class Hours:
    """Average power by day and hour of the local clock; None where there is no reading.

    `peak_day` and `peak_hour` are the place of the highest demand; the day is below zero where
    the demand is older than what is shown.
    """

    first: dt.date
    days: tuple[tuple[float | None, ...], ...]
    peak_day: int
    peak_hour: int

    def day(self, number: int) -> dt.date:
        return self.first + dt.timedelta(days=number)


def by_hour(series: Series, zone: dt.tzinfo, peak: Reading) -> Hours:
    """The last year of readings (366 days at most) by the clock of the site.

    On the autumn day the hour that comes twice is the average of both; in spring the hour that
    is skipped stays empty.
    """
    last = dt.datetime.fromtimestamp(series.end - 1, zone).date()
    start = dt.datetime.fromtimestamp(series.first, zone).date()
    first = max(start, last - dt.timedelta(days=LONGEST - 1))
    number = (last - first).days + 1
    energy = [[0.0] * HOURS for _ in range(number)]
    lasted = [[0] * HOURS for _ in range(number)]
    for reading in series:
        for day, hour, seconds in _pieces(reading, zone, first):
            energy[day][hour] += reading.power * seconds
            lasted[day][hour] += seconds
    days = tuple(tuple(map(_average, *pair)) for pair in zip(energy, lasted, strict=True))
    at = dt.datetime.fromtimestamp(peak.start, zone)
    return Hours(first=first, days=days, peak_day=(at.date() - first).days, peak_hour=at.hour)


def _average(energy: float, seconds: int) -> float | None:
    return energy / seconds if seconds else None


def _pieces(reading: Reading, zone: dt.tzinfo, first: dt.date) -> Sequence[tuple[int, int, int]]:
    """The reading cut at full hours: day shown, hour, seconds. Empty before the first day."""
    pieces: list[tuple[int, int, int]] = []
    at = reading.start
    if dt.datetime.fromtimestamp(reading.end, zone).date() < first:
        return pieces
    while at < reading.end:
        until = min(reading.end, (at // 900 + 1) * 900 if reading.seconds <= 900 else _hour(at))
        local = dt.datetime.fromtimestamp(at, zone)
        day = (local.date() - first).days
        if day >= 0:
            pieces.append((day, local.hour, until - at))
        at = until
    return pieces


def _hour(at: int) -> int:
    """The next full half hour: offsets of zones are multiples of it or of a quarter."""
    return (at // 1800 + 1) * 1800


def by_month(series: Series, zone: dt.tzinfo) -> list[Month]:
    """Months in order. A reading belongs to the month it begins in."""
    held: dict[tuple[int, int], tuple[float, int, Reading]] = {}
    for reading in series:
        local = dt.datetime.fromtimestamp(reading.start, zone)
        key = (local.year, local.month)
        energy, covered, peak = held.get(key, (0.0, 0, reading))
        higher = reading if reading.power > peak.power else peak
        energy += reading.power * reading.seconds / 3600
        held[key] = (energy, covered + reading.seconds, higher)
    return [
        Month(year=year, month=month, energy=round(energy, 3), covered=covered, peak=peak)
        for (year, month), (energy, covered, peak) in sorted(held.items())
    ]
