"""A year of quarter hours at one of the demo's homes, as its utility would hand it out."""

from __future__ import annotations

import datetime as dt
import io
import math
from collections.abc import Iterator

from contractor.models import Person, Site
from followups.demo.calendar import Calendar
from panels.services import meter

HOME = "C-103"
DAYS, QUARTER = 365, dt.timedelta(minutes=15)


def load_readings(*, sites: dict[str, Site], by: Person, calendar: Calendar) -> None:
    """The year that ended yesterday at midnight, taken in like any other file."""
    end = dt.datetime.combine(calendar.today, dt.time(), calendar.zone).astimezone(dt.UTC)
    text = "\n".join(_lines(end, calendar.zone))
    meter.take_in(
        site=sites[HOME],
        file=io.BytesIO(text.encode()),
        name="interval-data.csv",
        by=by,
        now=end.astimezone(calendar.zone) + dt.timedelta(hours=8),
    )


def _lines(end: dt.datetime, zone: dt.tzinfo) -> Iterator[str]:
    yield "start,duration (min),kWh"
    number = DAYS * 96
    for n in range(number):
        at = (end - (number - n) * QUARTER).astimezone(zone)
        yield f"{at:%Y-%m-%dT%H:%M%z},15,{_kilowatts(at, n) / 4:.3f}"


def _kilowatts(at: dt.datetime, n: int) -> float:
    """A house with a heat pump: cold mornings, hot afternoons, supper, and chance."""
    hour = at.hour + at.minute / 60
    season = math.cos((at.timetuple().tm_yday - 20) / 365 * 2 * math.pi)  # 1 in January
    chance = _chance(n)
    heating = max(season, 0) * (1.4 + 1.8 * _near(hour, 6.5, 2)) * (chance > 0.35)
    cooling = max(-season - 0.2, 0) * 3.4 * _near(hour, 16.5, 3) * (_chance(n // 2) > 0.3)
    supper = 2.6 * _near(hour, 18.25, 0.8) * (_chance(n // 96) > 0.25)
    hot_water = 3.8 * (_chance(n + 7) > 0.97) * (5 < hour < 23)
    return (
        0.28 + 0.25 * _near(hour, 20.5, 2.5) + 0.2 * chance + heating + cooling + supper + hot_water
    )


def _near(hour: float, middle: float, width: float) -> float:
    return math.exp(-(((hour - middle) / width) ** 2))


def _chance(n: int) -> float:
    """From 0 to 1, the same at every load of the demo."""
    return math.modf(abs(math.sin(n * 12.9898 + 4.1) * 43758.5453))[0]
