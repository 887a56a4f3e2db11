"""When does the sun rise at a place on a day? By the usual series for the sun's position."""

from __future__ import annotations

import datetime as dt
import math

# The fractional-year series of the national weather service's solar calculator, from memory;
# checked in the tests against almanac times. 90.833 degrees: refraction and half the disc.
ZENITH = math.radians(90.833)


def sunrise(
    day: dt.date, *, latitude: float, longitude: float, offset: dt.timedelta
) -> dt.time | None:
    """The local clock time, to the minute; None where the sun does not rise that day.

    `latitude` north and `longitude` east in degrees, `offset` of the local clock from UTC.
    """
    year = 2 * math.pi / 365 * (day.timetuple().tm_yday - 1)
    equation = 229.18 * (
        0.000075
        + 0.001868 * math.cos(year)
        - 0.032077 * math.sin(year)
        - 0.014615 * math.cos(2 * year)
        - 0.040849 * math.sin(2 * year)
    )
    tilt = (
        0.006918
        - 0.399912 * math.cos(year)
        + 0.070257 * math.sin(year)
        - 0.006758 * math.cos(2 * year)
        + 0.000907 * math.sin(2 * year)
        - 0.002697 * math.cos(3 * year)
        + 0.00148 * math.sin(3 * year)
    )
    north = math.radians(latitude)
    half = math.cos(ZENITH) / (math.cos(north) * math.cos(tilt)) - math.tan(north) * math.tan(tilt)
    if not -1 <= half <= 1:
        return None
    minutes = 720 - 4 * (longitude + math.degrees(math.acos(half))) - equation
    whole = round(minutes + offset.total_seconds() / 60) % (24 * 60)
    return dt.time(whole // 60, whole % 60)
