"""Does the sun rise when an almanac says? Times from memory of printed almanacs, to 3 minutes."""

from __future__ import annotations

import datetime as dt

import pytest

from panels.rules.standby.sunrise import sunrise

HOUR = dt.timedelta(hours=1)


@pytest.mark.parametrize(
    ("day", "latitude", "longitude", "offset", "clock"),
    [
        (dt.date(2026, 6, 21), 51.48, 0.0, HOUR, dt.time(4, 43)),  # Greenwich, summer time
        (dt.date(2026, 12, 21), 51.48, 0.0, 0 * HOUR, dt.time(8, 4)),
        (dt.date(2026, 3, 20), 0.0, 0.0, 0 * HOUR, dt.time(6, 4)),
    ],
)
def test_the_sun_rises_as_printed(
    day: dt.date, latitude: float, longitude: float, offset: dt.timedelta, clock: dt.time
) -> None:
    found = sunrise(day, latitude=latitude, longitude=longitude, offset=offset)
    assert found is not None
    minutes = (found.hour - clock.hour) * 60 + found.minute - clock.minute
    assert abs(minutes) <= 3


def test_a_quarter_of_the_way_round_is_six_hours_later_in_universal_time() -> None:
    day = dt.date(2026, 3, 20)
    here = sunrise(day, latitude=40, longitude=0, offset=0 * HOUR)
    west = sunrise(day, latitude=40, longitude=-90, offset=0 * HOUR)
    assert here is not None
    assert west is not None
    assert west.hour - here.hour == 6
    assert west.minute == here.minute


def test_beyond_the_circle_it_does_not_rise_in_winter() -> None:
    assert sunrise(dt.date(2026, 12, 21), latitude=75, longitude=0, offset=0 * HOUR) is None
