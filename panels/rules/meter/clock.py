"""Which instant is meant by the times a table of readings is written in?"""

from __future__ import annotations

import datetime as dt
import re

EPOCH = dt.datetime(1970, 1, 1, tzinfo=dt.UTC)
STAMP = re.compile(
    r"(?:(?P<year>\d{4})[-/.](?P<month>\d{1,2})[-/.](?P<day>\d{1,2})"
    r"|(?P<us_month>\d{1,2})[-/](?P<us_day>\d{1,2})[-/](?P<us_year>\d{4}|\d{2}))"
    r"(?:[T ,]+(?P<hour>\d{1,2}):(?P<minute>\d{2})(?::(?P<second>\d{2})(?:\.\d+)?)?"
    r"\s*(?P<half>[AaPp])?\.?(?:[Mm]\.?)?)?"
    r"\s*(?P<offset>Z|UTC|GMT|[+-]\d{2}:?\d{2})?"
)
UNIX = re.compile(r"\d{9,10}")


class Clock:
    """Turns written times into Unix seconds; those without an offset are of `zone`.

    The hour that comes twice in autumn is told apart by the order of the file. `skipped` counts
    times that no clock of the zone shows in spring: a file with those does not change its clock.
    """

    def __init__(self, zone: dt.tzinfo) -> None:
        self.zone = zone
        self.skipped = 0
        self.twice = 0
        self.with_offset = 0
        self._last = 0

    def seconds(self, text: str) -> int:
        """The instant of a date and time. Raises ValueError where it is none."""
        text = text.strip()
        if UNIX.fullmatch(text):
            self.with_offset += 1
            return int(text)
        match = STAMP.fullmatch(text)
        if match is None:
            raise ValueError(text)
        local, offset = _local(match), match["offset"]
        if offset:
            self.with_offset += 1
            return int((local - EPOCH - _offset(offset)).total_seconds())
        self._last = self._in_zone(local)
        return self._last

    def _in_zone(self, local: dt.datetime) -> int:
        since = int((local - EPOCH).total_seconds())
        written = local.replace(tzinfo=self.zone)
        early, late = _shift(self.zone, written), _shift(self.zone, written.replace(fold=1))
        if early < late:
            self.skipped += 1
        elif early > late:
            self.twice += 1
            if since - early <= self._last:
                return since - late
        return since - early


def winter_clock(zone: dt.tzinfo, year: int) -> dt.timezone:
    """The zone's standard time, all year round."""
    shifts = [_shift(zone, dt.datetime(year, month, 1, tzinfo=zone)) for month in (1, 7)]
    return dt.timezone(dt.timedelta(seconds=min(shifts)))


def _shift(zone: dt.tzinfo, local: dt.datetime) -> int:
    return int((zone.utcoffset(local) or dt.timedelta()).total_seconds())


def _local(match: re.Match[str]) -> dt.datetime:
    """The date and time as written, for reckoning only: it bears UTC whatever zone is meant."""
    if match["year"]:
        year, month, day = (int(match[name]) for name in ("year", "month", "day"))
    else:
        year, month, day = (int(match[name]) for name in ("us_year", "us_month", "us_day"))
        year += 2000 if year < 100 else 0
    hour = int(match["hour"] or 0)
    if match["half"]:
        if not 1 <= hour <= 12:
            raise ValueError(match[0])
        hour = hour % 12 + (12 if match["half"] in "Pp" else 0)
    whole = dt.timedelta(days=1) if hour == 24 else dt.timedelta()  # midnight as the day's end
    minute, second = int(match["minute"] or 0), int(match["second"] or 0)
    return dt.datetime(year, month, day, hour % 24, minute, second, tzinfo=dt.UTC) + whole


def _offset(text: str) -> dt.timedelta:
    if not text.startswith(("+", "-")):
        return dt.timedelta()
    hours, minutes = int(text[1:3]), int(text[-2:])
    shift = dt.timedelta(hours=hours, minutes=minutes)
    return -shift if text[0] == "-" else shift
