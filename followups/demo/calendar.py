"""When is the demo's day -12? Working days counted from the day it is loaded."""

from __future__ import annotations

import datetime as dt
import zoneinfo
from dataclasses import dataclass

WORKDAYS = 5


@dataclass(frozen=True)
class Calendar:
    """Day 0 is `today`, or the next working day when today is none."""

    today: dt.date
    zone: zoneinfo.ZoneInfo

    def day(self, number: int) -> dt.date:
        day = self.today
        while day.weekday() >= WORKDAYS:
            day += dt.timedelta(days=1)
        step = dt.timedelta(days=1 if number > 0 else -1)
        for _ in range(abs(number)):
            day += step
            while day.weekday() >= WORKDAYS:
                day += step
        return day

    def at(self, number: int, clock: str) -> dt.datetime:
        """A wall-clock time such as "07:30" on a day of the demo."""
        return dt.datetime.combine(self.day(number), dt.time.fromisoformat(clock), self.zone)
