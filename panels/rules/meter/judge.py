"""How far may the demand of these readings be trusted for the metered method?"""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from panels.rules.meter.catalogue import NOT_MEASURED, QUALITIES
from panels.rules.meter.findings import Finding, Severity, counted, length, power
from panels.rules.meter.series import Series

DAY = 86_400
QUARTER, HOUR = 900, 3600
# As in 220.87 of every edition known here; the calculation itself goes by its edition.
YEAR_DAYS, LEAST_DAYS = 365, 30
# Ours, no source: what no service of a dwelling carries, and what no lived-in one stays below.
TOO_MUCH, TOO_LITTLE = 200_000.0, 20.0
MISSING_FORGIVEN = 0.01  # of the span; ours, no source


def days_of(series: Series) -> int:
    """Whole days on record: first to last, or where over 1 % is missing only what is there."""
    span, covered = series.end - series.first, series.covered
    return (span if span - covered <= MISSING_FORGIVEN * span else covered) // DAY


def judged(
    series: Series, qualities: Counter[int], zone: dt.tzinfo,
    *, offset: int | None = None, on: dt.date | None = None,
) -> Iterator[Finding]:  # fmt: skip
    """Everything to be said about length, fineness, quality, clock and size of the readings."""
    yield from _fineness(series)
    yield from _span(series)
    yield from _quality(qualities)
    yield from _clock_days(series, zone)
    yield from _size(series)
    if on is not None:
        yield from _age(dt.datetime.fromtimestamp(series.end, zone).date(), on)
    if offset is not None:
        yield from _offset(series, zone, offset)


def _fineness(series: Series) -> Iterator[Finding]:
    interval, lengths = series.interval, sorted(set(series.seconds))
    if interval > HOUR:
        told = f"Each reading covers {length(interval)}: no demand can be had from it. Ask the"
        end = " utility for data by the quarter hour, or at least by the hour."
        yield Finding("too_coarse", told + end, Severity.BARS)
    elif interval > QUARTER:
        told = f"Each reading is an average over {length(interval)}. The demand over 15 minutes is"
        end = " higher, often much. Ask the utility for data by the quarter hour."
        yield Finding("coarse", told + end, Severity.CAUTION)
    if len(lengths) > 1:
        listed = ", ".join(length(one) for one in lengths[:6])
        told = f"The readings are not all of one length ({listed}); compared is power, not energy."
        yield Finding("mixed_lengths", told)


def _span(series: Series) -> Iterator[Finding]:
    days = days_of(series)
    if days < LEAST_DAYS:
        told = f"{counted(days, 'day', 'days')} of readings: at least {LEAST_DAYS} are needed."
        yield Finding("too_short", told, Severity.BARS)
    elif days < YEAR_DAYS:
        told = f"{days:,} days of readings, less than a year: only the exception for a recording of"
        end = " 30 days or more is open, and it asks for quarter hours and for what did not run."
        yield Finding("short", told + end, Severity.CAUTION)


def _quality(qualities: Counter[int]) -> Iterator[Finding]:
    doubtful = {code: qualities[code] for code in sorted(NOT_MEASURED) if qualities[code]}
    if doubtful:
        listed = ", ".join(f"{number:,} {QUALITIES[code]}" for code, number in doubtful.items())
        all_of_them = sum(qualities.values())
        told = f"Of {all_of_them:,} readings not measured as they stand: {listed}."
        yield Finding("quality", told, Severity.CAUTION)


def _clock_days(series: Series, zone: dt.tzinfo) -> Iterator[Finding]:
    """Days of 23 and 25 hours among the readings."""
    first = dt.datetime.fromtimestamp(series.first, zone).date()
    last = dt.datetime.fromtimestamp(series.end - 1, zone).date()
    if (last - first).days > 3 * 366:
        first = last - dt.timedelta(days=3 * 366)
    noons = [
        dt.datetime.combine(first + dt.timedelta(days=n), dt.time(), zone)
        for n in range((last - first).days + 2)
    ]
    odd = [
        f"{a:%Y-%m-%d} ({hours:g} h)"
        for a, b in pairwise(noons)
        if (hours := (b.timestamp() - a.timestamp()) / 3600) != 24
    ]
    if odd:
        told = f"Days the clocks change: {', '.join(odd)}. Days are compared by power, not energy."
        yield Finding("clock_change", told + _by_energy(series))


def _by_energy(series: Series) -> str:
    """What a reader who looks for the most energy would take for the peak."""
    most = max(series, key=lambda one: one.power * one.seconds)
    if most.seconds == series.peak.seconds or most.start == series.peak.start:
        return ""
    return f" The reading with the most energy is merely the longest ({length(most.seconds)})."


def _size(series: Series) -> Iterator[Finding]:
    peak, mean, unit = series.peak.power, series.energy * 3600 / series.covered, series.unit
    if peak > TOO_MUCH:
        told = (
            f"The highest reading is {power(peak, unit)}, more than a dwelling's service carries."
        )
    elif peak < TOO_LITTLE:
        told = f"No reading is above {power(peak, unit)}, less than a lived-in dwelling draws."
    else:
        return
    end = f" The average is {power(mean, unit)}. Compare with a bill: unit or scale may be wrong."
    yield Finding("implausible", told + end, Severity.CAUTION)


def _age(last: dt.date, on: dt.date) -> Iterator[Finding]:
    if last > on + dt.timedelta(days=1):
        told = (
            f"The last reading is of {last}, which is in the future. Check the clock of the file."
        )
        yield Finding("in_the_future", told, Severity.CAUTION)
    elif (on - last).days > YEAR_DAYS:
        told = f"The last reading is of {last}: what was added or taken out since is not in it."
        yield Finding("old", told, Severity.CAUTION)


def _offset(series: Series, zone: dt.tzinfo, offset: int) -> Iterator[Finding]:
    """The file's own clock against the one of the site, in winter."""
    start = dt.datetime.fromtimestamp(series.first, zone)
    winter = min(
        (start.replace(month=month, day=1).utcoffset() or dt.timedelta() for month in (1, 7)),
    ).total_seconds()
    if winter != offset:
        told = f"The file counts {offset / 3600:+g} h from UTC, the site {winter / 3600:+g} h in"
        end = " winter. Check that the file is of this site."
        yield Finding("other_clock", told + end, Severity.CAUTION)
