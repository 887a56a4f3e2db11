"""How is a quarter drawn: a bar of finished jobs for each week, and the callbacks before it?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

WIDTH, HEIGHT = 360, 130  # of the drawing, in its own units
TOP, FOOT = 14, 20  # room for the numbers above and the dates below
GAP = 8
LEAST = 5  # a quiet quarter is drawn low, not blown up


@dataclass(frozen=True)
class Week:
    monday: dt.date
    closed: int
    opened: int


@dataclass(frozen=True)
class Bar:
    """Where one week stands in the drawing; heights are measured up from `base`."""

    week: Week
    x: float
    width: float
    middle: float
    base: float
    closed_y: float
    closed_height: float
    opened_y: float
    opened_height: float
    label_y: float
    has_date: bool


def weeks_before(today: dt.date, count: int) -> list[dt.date]:
    """The Mondays of so many weeks, this one last."""
    monday = today - dt.timedelta(days=today.weekday())
    return [monday - dt.timedelta(weeks=back) for back in reversed(range(count))]


def bars(weeks: Sequence[Week]) -> list[Bar]:
    """Both counts on one scale from nought, so that their sizes may be compared by eye."""
    most = max([LEAST, *(max(week.closed, week.opened) for week in weeks)])
    step = WIDTH / max(len(weeks), 1)
    tall = (HEIGHT - TOP - FOOT) / most
    base = HEIGHT - FOOT
    return [
        Bar(
            week=week,
            x=place * step + GAP / 2,
            width=step - GAP,
            middle=place * step + step / 2,
            base=base,
            closed_y=base - week.closed * tall,
            closed_height=week.closed * tall,
            opened_y=base - week.opened * tall,
            opened_height=week.opened * tall,
            label_y=base - max(week.closed, week.opened) * tall - 4,
            has_date=(len(weeks) - 1 - place) % 3 == 0,
        )
        for place, week in enumerate(weeks)
    ]
