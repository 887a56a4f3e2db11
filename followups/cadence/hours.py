"""At what instant is it a decent hour where the person lives?

Rule kept for every message: nothing goes out between the evening and the morning limit by the
clock of the place the message is about. The outer limits follow 47 CFR 64.1200(c)(1), 8 a.m. to
9 p.m. at the called party's location, written for telephone solicitations; keeping mails to
them as well is the firm's own choice.
"""

from __future__ import annotations

import datetime as dt
import zoneinfo
from dataclasses import dataclass

EVERY_DAY = frozenset(range(1, 8))
DAYS_AHEAD = 15  # a fortnight always holds an opening, whatever the clocks do


@dataclass(frozen=True)
class Hours:
    """From `opens` until just before `closes`, on ISO weekdays 1 (Monday) to 7."""

    opens: dt.time
    closes: dt.time
    days: frozenset[int] = EVERY_DAY

    def __post_init__(self) -> None:
        if not (self.opens < self.closes and self.days and self.days <= EVERY_DAY):
            raise ValueError(f"no decent hour in {self}")

    def decent(self, wall: dt.datetime) -> bool:
        return wall.isoweekday() in self.days and self.opens <= wall.time() < self.closes

    def nearest(self, wall: dt.time) -> dt.time:
        """The wall time itself, or the opening when it lies outside."""
        return wall if self.opens <= wall < self.closes else self.opens


def instant(day: dt.date, wall: dt.time, zone: zoneinfo.ZoneInfo) -> dt.datetime:
    """The UTC instant of a wall time: in the spring gap the first valid minute after it, in the
    autumn fold the first occurrence.
    """
    local = dt.datetime.combine(day, wall.replace(fold=0), zone)
    there_and_back = local.astimezone(dt.UTC).astimezone(zone)
    if there_and_back.replace(tzinfo=None) == local.replace(tzinfo=None):
        return local.astimezone(dt.UTC)
    return _end_of_gap(local)


def _end_of_gap(local: dt.datetime) -> dt.datetime:
    """Inside a gap the offset before it (fold 0) and after it (fold 1) both miss; the gap ends
    where they meet.
    """
    zone = local.tzinfo
    after, before = (local.replace(fold=fold).astimezone(dt.UTC) for fold in (0, 1))
    while after - before > dt.timedelta(minutes=1):
        middle = before + (after - before) / 2
        if middle.astimezone(zone).utcoffset() == before.astimezone(zone).utcoffset():
            before = middle
        else:
            after = middle
    return after.replace(second=0, microsecond=0)


def is_decent(now: dt.datetime, *, zone: zoneinfo.ZoneInfo, hours: Hours) -> bool:
    return hours.decent(now.astimezone(zone))


def next_decent(now: dt.datetime, *, zone: zoneinfo.ZoneInfo, hours: Hours) -> dt.datetime:
    """`now` when it is a decent hour there, otherwise the next opening, in UTC.

    A day opens once, at the first valid minute of its opening. Raises ValueError when the hours
    never come (a quarter of an hour that lies in every gap).
    """
    if is_decent(now, zone=zone, hours=hours):
        return now.astimezone(dt.UTC)
    today = now.astimezone(zone).date()
    for ahead in range(DAYS_AHEAD):
        opening = instant(today + dt.timedelta(days=ahead), hours.opens, zone)
        if opening >= now and is_decent(opening, zone=zone, hours=hours):
            return opening
    raise ValueError(f"{hours} never come in {zone}")


def days_later(
    start: dt.datetime, *, days: int, wall: dt.time, zone: zoneinfo.ZoneInfo, hours: Hours
) -> dt.datetime:
    """`days` calendar days after the local date of `start`, at a wall time kept within the hours,
    moved on to the next day that allows messages.
    """
    day = start.astimezone(zone).date() + dt.timedelta(days=days)
    return next_decent(instant(day, hours.nearest(wall), zone), zone=zone, hours=hours)
