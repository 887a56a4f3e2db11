"""The picture says the same as its numbers: every hour once, in its own strength of ink."""

from __future__ import annotations

import re

import pytest

from panels.rules.meter import read_file
from panels.rules.meter.hours import by_hour
from panels.views.heat import BLANK, LEVELS, Heat, heat
from tests.panels import metering
from tests.panels.metering import HERE, NEW_YEAR_2025

RUN = re.compile(r"M(\d+) (\d+)h1v(\d+)h-1z")


def picture(rows: list[metering.Row]) -> Heat:
    series = read_file(metering.green_button(rows), HERE).series
    return heat(by_hour(series, HERE, series.peak), unit="W", peak="2.37 kW, 28 Aug 2025 18:00")


def cells(drawn: Heat) -> dict[tuple[int, int], int | str]:
    found: dict[tuple[int, int], int | str] = {}
    for layer in drawn.layers:
        for day, hour, length in RUN.findall(layer.d):
            for n in range(int(length)):
                assert found.setdefault((int(day), int(hour) + n), layer.level) == layer.level
    return found


def test_every_hour_is_drawn_once_in_the_ink_of_its_power() -> None:
    rows = [(NEW_YEAR_2025 + n * 3600, 3600, n % 24 * 100) for n in range(60 * 24)]
    found = picture(rows)
    drawn = cells(found)
    assert len(drawn) == 60 * 24
    assert [layer.range for layer in found.legend] == [
        "< 250 W", "250 W – 600 W", "600 W – 1.00 kW", "1.00 kW – 1.50 kW", "≥ 1.50 kW",
    ]  # fmt: skip
    hours = (0, 2, 3, 5, 6, 9, 10, 14, 15, 23)  # of 2300 W the levels begin at 250, 600, 1000, 1500
    assert [drawn[5, hour] for hour in hours] == [0, 0, 1, 1, 2, 2, 3, 3, 4, 4]


def test_hours_without_a_reading_are_apart_from_hours_of_little() -> None:
    rows = [(NEW_YEAR_2025 + n * 3600, 3600, 0) for n in range(48) if n != 30]
    drawn = picture(rows)
    assert cells(drawn)[1, 6] == BLANK
    assert [one.level for one in drawn.legend][-1] == BLANK
    assert len(drawn.legend) == LEVELS + 1


@pytest.mark.parametrize("days", [1, 31, 365])
def test_marks_and_labels_stay_within_the_frame(days: int) -> None:
    for frame in picture(metering.quarters(days)).frames:
        assert frame.peak is not None
        x, y, wide = frame.label
        assert 0 <= x <= x + wide <= frame.width
        assert 0 <= y <= y + 24 <= frame.height
        assert 0 < frame.peak[0] < frame.width
        assert 0 < frame.peak[1] < frame.height
        assert all(0 <= at <= frame.width for at, _, _ in frame.months + frame.hours)


def test_a_year_is_drawn_in_little_room() -> None:
    assert sum(len(layer.d) for layer in picture(metering.quarters(365)).layers) < 100_000
