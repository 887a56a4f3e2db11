"""The picture's numbers: by day and hour of the local clock, and by month."""

from __future__ import annotations

import datetime as dt
from functools import cache

import pytest

from panels.rules.meter import read_file
from panels.rules.meter.hours import by_hour, by_month
from panels.rules.meter.series import Reading, Series
from tests.panels import metering
from tests.panels.metering import HERE


@cache
def year() -> Series:
    return read_file(metering.green_button(metering.quarters(365)), HERE).series


def test_every_hour_of_the_year_is_the_mean_of_its_quarters() -> None:
    series = year()
    found = by_hour(series, HERE, series.peak)
    assert (len(found.days), found.first) == (365, dt.date(2025, 1, 1))
    first = list(series)[:4]
    assert found.days[0][0] == pytest.approx(sum(one.power for one in first) / 4)
    missing = [(d, h) for d, day in enumerate(found.days) for h in range(24) if day[h] is None]
    assert missing == [(67, 2)]  # the hour that is skipped on 9 March
    assert found.day(67) == dt.date(2025, 3, 9)


def test_the_hour_that_comes_twice_is_the_mean_of_both() -> None:
    midnight = int(dt.datetime(2025, 11, 2, tzinfo=HERE).timestamp())
    held = Series()
    for n in range(25):
        held.add(Reading(midnight + n * 3600, 3600, float(n)))
    found = by_hour(held, HERE, held.peak)
    assert found.days[0][:3] == (0.0, 1.5, 3.0)


def test_the_peak_has_its_place_also_when_older_than_what_is_shown() -> None:
    series = year()
    at = dt.datetime.fromtimestamp(series.peak.start, HERE)
    found = by_hour(series, HERE, series.peak)
    assert (found.day(found.peak_day), found.peak_hour) == (at.date(), at.hour)
    old = Reading(series.first - 40 * 86_400, 900, 1.0)
    assert by_hour(series, HERE, old).peak_day < 0


def test_more_than_a_year_shows_the_last_one() -> None:
    rows = [(metering.NEW_YEAR_2025 + n * 3600, 3600, 100) for n in range(500 * 24 - 1)]
    series = read_file(metering.green_button(rows), HERE).series
    found = by_hour(series, HERE, series.peak)
    assert len(found.days) == 366
    assert found.day(365) == dt.date(2025, 1, 1) + dt.timedelta(days=499)


def test_the_months_share_the_energy_out() -> None:
    series = year()
    months = by_month(series, HERE)
    assert [one.month for one in months] == list(range(1, 13))
    assert sum(one.energy for one in months) == pytest.approx(series.energy)
    assert max(one.peak.power for one in months) == series.peak.power
    assert months[2].covered == 31 * 86_400 - 3600
    assert months[0].average == pytest.approx(months[0].energy / (31 * 24))
