"""Which readings repeat, contradict or overlap one another, and what is missing between them?"""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from panels.rules.meter.catalogue import Kind
from panels.rules.meter.channels import rate
from panels.rules.meter.findings import Finding, Severity, Unreadable, counted, length
from panels.rules.meter.rows import Rows
from panels.rules.meter.series import Reading, Series

LONGEST = 366 * 86_400
NEVER_BEFORE = 946_684_800  # 2000; interval meters are younger
NEVER_AFTER = 4_102_444_800  # 2100


@dataclass
class Ordered:
    """The series and what had to be done to get it."""

    series: Series
    qualities: Counter[int] = field(default_factory=Counter)
    counts: Counter[str] = field(default_factory=Counter)
    gaps: list[tuple[int, int]] = field(default_factory=list)


def in_order(rows: Rows, kind: Kind) -> Ordered:
    """The rows as a series: repeated ones once, of contradicting ones the higher power.

    A reading without a start or a length of its own takes the length its kind states.
    Raises `Unreadable` where neither is known.
    """
    done = Ordered(Series(unit=kind.measures))
    last: Reading | None = None
    quality_of_last = 0
    for start, seconds, value, quality in sorted(_timed(rows, kind)):
        now = Reading(start, seconds, rate(kind, value, seconds))
        if last is not None and start < last.end:
            done.counts[_clash(last, now)] += 1
            if now.power > last.power and start == last.start:
                last, quality_of_last = now, quality
            elif now.power > last.power:
                last, quality_of_last = _cut(done, last, now, quality_of_last), quality
            continue
        if last is not None:
            _keep(done, last, quality_of_last, gap_until=start)
        last, quality_of_last = now, quality
    if last is not None:
        _keep(done, last, quality_of_last, gap_until=last.end)
    done.counts["negative"] = sum(power < 0 for power in done.series.powers)
    return done


def _clash(last: Reading, now: Reading) -> str:
    if now == last:
        return "duplicates"
    return "conflicts" if now[:2] == last[:2] else "overlaps"


def _cut(done: Ordered, last: Reading, now: Reading, quality: int) -> Reading:
    """The earlier of two overlapping readings ends where the higher one begins."""
    _keep(done, Reading(last.start, now.start - last.start, last.power), quality, now.start)
    return now


def _keep(done: Ordered, reading: Reading, quality: int, gap_until: int) -> None:
    done.series.add(reading)
    done.qualities[quality] += 1
    if gap_until > reading.end:
        done.gaps.append((reading.end, gap_until - reading.end))


def _timed(rows: Rows, kind: Kind) -> Iterable[tuple[int, int, float, int]]:
    """Every row with a start and a length that can be. Where a block gives no times for its
    readings there is nothing to place them by."""
    for start, seconds, value, quality in rows:
        seconds = seconds or kind.seconds or 0
        if not 0 < seconds <= LONGEST:
            raise Unreadable(
                "no_length",
                "A reading says no usable length of its interval, and neither does the file."
                " Ask the utility for data with the duration of each interval.",
            )
        if not NEVER_BEFORE <= start <= NEVER_AFTER:
            raise Unreadable(
                "no_start",
                "A reading does not say when it was taken, or a time that cannot be. Ask the"
                " utility for data with the start of each interval.",
            )
        yield start, seconds, value, quality


def told(done: Ordered, zone: dt.tzinfo) -> list[Finding]:
    """What was found, in words."""
    counts, found = done.counts, []
    if number := counts["duplicates"]:
        one, several = "reading is repeated", "readings are repeated"
        said = f"{counted(number, one, several)} exactly; each was taken once."
        found.append(Finding("duplicates", said))
    if number := counts["conflicts"]:
        one = "reading contradicts another"
        said = f"{counted(number, one, 'readings contradict another')} of the same interval;"
        found.append(Finding("conflicts", f"{said} the higher was taken.", Severity.CAUTION))
    if number := counts["overlaps"]:
        one = "reading overlaps another"
        said = f"{counted(number, one, 'readings overlap another')} in time; the higher was taken."
        found.append(Finding("overlaps", said, Severity.CAUTION))
    if number := counts["negative"]:
        one, several = "reading is", "readings are"
        said = f"{counted(number, one, several)} below zero: the site gave energy back. The metered"
        bars = f"{said} method is not for a site with a source of its own."
        found.append(Finding("reverse_flow", bars, Severity.BARS))
    return found + _gaps(done, zone)


def _gaps(done: Ordered, zone: dt.tzinfo) -> list[Finding]:
    if not done.gaps:
        return []
    missing = sum(seconds for _, seconds in done.gaps)
    start, longest = max(done.gaps, key=lambda gap: gap[1])
    when = dt.datetime.fromtimestamp(start, zone).strftime("%Y-%m-%d %H:%M")
    said = f"{counted(len(done.gaps), 'gap', 'gaps')}, {length(missing)} without a reading;"
    said += f" the longest begins {when} and lasts {length(longest)}."
    return [Finding("gaps", f"{said} What was drawn then is not known.", Severity.CAUTION)]
