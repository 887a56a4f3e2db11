"""A typical year for the outage: 35,040 quarter hours from 1 January, local standard time."""

from __future__ import annotations

import datetime as dt

import pytest

from panels.rules.meter import read_file
from panels.rules.meter.profile import SLOTS, typical_year
from panels.rules.meter.series import Reading, Series
from tests.panels import metering
from tests.panels.metering import HERE, NEW_YEAR_2025

YEAR = 365 * SLOTS


def series(rows: list[metering.Row]) -> Series:
    return read_file(metering.green_button(rows), HERE).series


def test_a_whole_year_comes_back_reading_by_reading() -> None:
    rows = metering.quarters(365)
    found = typical_year(series(rows), HERE)
    assert found is not None
    assert (len(found.powers), found.filled) == (YEAR, 0)
    assert found.powers == pytest.approx([row[2] * 4.0 for row in rows])


def test_summer_stands_in_standard_time() -> None:
    noon = int(dt.datetime(2025, 7, 1, 13, 0, tzinfo=HERE).timestamp())  # 12:00 EST
    rows = [
        (start, seconds, 9999 if start == noon else 10)
        for start, seconds, _ in metering.quarters(365)
    ]
    found = typical_year(series(rows), HERE)
    assert found is not None
    assert found.powers.index(9999 * 4.0) == 181 * SLOTS + 48


def test_hours_are_held_flat() -> None:
    rows = [(NEW_YEAR_2025 + n * 3600, 3600, n % 50) for n in range(8760)]
    found = typical_year(series(rows), HERE)
    assert found is not None
    assert found.powers[:8] == [0.0] * 4 + [1.0] * 4
    assert sum(found.powers) / 4 == pytest.approx(sum(row[2] for row in rows))


def test_five_minutes_are_averaged() -> None:
    rows = [(NEW_YEAR_2025 + n * 300, 300, n % 3) for n in range(8 * 288)]
    found = typical_year(series(rows), HERE)
    assert found is not None
    assert found.powers[0] == pytest.approx(12.0)


def test_what_is_missing_follows_the_same_hour_of_the_days_beside_it() -> None:
    rows = metering.quarters(365)
    found = typical_year(series(rows[: 100 * 96] + rows[101 * 96 :]), HERE)
    assert found is not None
    assert found.filled == 96
    beside = (rows[99 * 96][2] + rows[101 * 96][2]) / 2 * 4
    assert found.powers[100 * 96] == pytest.approx(beside)


def test_the_latest_of_several_years_counts_and_the_leap_day_is_left_out() -> None:
    start = int(dt.datetime(2023, 1, 1, tzinfo=HERE).timestamp())
    days = (dt.date(2025, 1, 1) - dt.date(2023, 1, 1)).days
    rows = [(start + n * 3600, 3600, 100 if n < 365 * 24 else 200) for n in range(days * 24)]
    found = typical_year(series(rows), HERE)
    assert found is not None
    assert set(found.powers) == {200.0}


def test_part_of_a_year_is_filled_and_says_so() -> None:
    found = typical_year(series(metering.quarters(60)), HERE)
    assert found is not None
    assert found.filled == 305 * 96
    assert min(found.powers) > 0


@pytest.mark.parametrize("rows", [
    metering.quarters(6), [(NEW_YEAR_2025 + n * 86_400, 86_400, 9000) for n in range(365)],
])  # fmt: skip
def test_a_few_days_or_whole_days_make_no_year(rows: list[metering.Row]) -> None:
    assert typical_year(series(rows), HERE) is None
    assert typical_year(Series(), HERE) is None


def test_a_year_on_the_half_hour_is_cut_at_the_quarters() -> None:
    held = Series()
    for n in range(400 * 24):
        held.add(Reading(NEW_YEAR_2025 + 450 + n * 3600, 3600, float(n % 24)))
    found = typical_year(held, HERE)
    assert found is not None
    assert found.powers[4 * 5] == pytest.approx(4.5)
