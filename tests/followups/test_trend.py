"""The quarter as it is drawn: on one scale, from nought, inside its frame."""

from __future__ import annotations

import datetime as dt

from hypothesis import given
from hypothesis import strategies as st

from followups import trend
from followups.trend import Week, bars, weeks_before

MONDAY = dt.date(2026, 11, 23)


def test_the_mondays_of_twelve_weeks_this_one_last() -> None:
    mondays = weeks_before(dt.date(2026, 11, 25), 12)
    assert mondays[-1] == MONDAY
    assert mondays[0] == dt.date(2026, 9, 7)
    assert weeks_before(MONDAY, 1) == [MONDAY]
    assert weeks_before(dt.date(2026, 11, 29), 1) == [MONDAY]  # the Sunday still belongs to it


COUNTS = st.lists(st.tuples(st.integers(0, 500), st.integers(0, 500)), max_size=20)


@given(COUNTS)
def test_bars_are_in_proportion_and_stay_in_the_drawing(counts: list[tuple[int, int]]) -> None:
    drawn = bars([Week(MONDAY, closed, opened) for closed, opened in counts])
    most = max([trend.LEAST, *(number for pair in counts for number in pair)])
    tall = trend.HEIGHT - trend.TOP - trend.FOOT
    for bar in drawn:
        assert abs(bar.closed_height - bar.week.closed / most * tall) < 1e-6
        assert abs(bar.opened_height - bar.week.opened / most * tall) < 1e-6
        assert trend.TOP - 1e-6 <= bar.closed_y <= bar.base
        assert bar.x >= 0
        assert bar.x + bar.width <= trend.WIDTH
        assert bar.label_y >= trend.TOP - 4 - 1e-6


def test_a_quiet_quarter_is_not_blown_up() -> None:
    (bar,) = bars([Week(MONDAY, 1, 0)])
    assert bar.closed_height < (trend.HEIGHT - trend.TOP - trend.FOOT) / 4
