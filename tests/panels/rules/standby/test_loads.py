"""What is drawn when: habits by hour and season, the meter's year cut from any start."""

from __future__ import annotations

import datetime as dt

import pytest

from panels.rules.standby.loads import Load, mean_draw, window

YEAR = [float(step) for step in range(35_040)]
DAY = 96


@pytest.mark.parametrize(
    ("start", "first"),
    [
        ("2026-01-01 00:00", 0),
        ("2026-01-01 06:30", 26),
        ("2026-12-31 23:45", 35_039),
        ("2028-02-29 00:00", (31 + 27) * DAY),
        ("2028-03-01 00:00", (31 + 28) * DAY),
        ("2028-12-31 00:00", 364 * DAY),
    ],
)
def test_a_start_has_the_same_place_in_every_year(start: str, first: int) -> None:
    assert window(YEAR, dt.datetime.fromisoformat(start), 1)[0] == first


def test_the_year_goes_round_at_its_end() -> None:
    late = dt.datetime.fromisoformat("2026-12-31 23:30")
    assert window(YEAR, late, 1) == [35_038, 35_039, 0, 1]


def test_what_flows_back_into_the_grid_is_no_draw() -> None:
    assert window([-500.0] * 35_040, dt.datetime.fromisoformat("2026-06-01 12:00"), 1) == [0] * 4


def test_air_conditioning_rests_in_winter_and_heating_in_summer() -> None:
    cooler, heater = (
        Load(name=habit, running=1000, apparent=1000, habit=habit)
        for habit in ("cooling", "heating")
    )
    assert cooler.at(1, 16) == 0 < cooler.at(7, 16)
    assert heater.at(7, 6) == 0 < heater.at(1, 6)
    assert not cooler.runs_in([12, 1])
    assert cooler.runs_in([6])


def test_the_mean_is_that_of_the_day() -> None:
    lights = Load(name="Lights", running=180, apparent=180, habit="general")
    day = [lights.at(5, hour) for hour in range(24)]
    assert mean_draw(180, "general", 5) == pytest.approx(sum(day) / 24)
