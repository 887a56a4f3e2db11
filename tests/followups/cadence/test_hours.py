"""Decent hours where the person lives, whatever the clocks do."""

from __future__ import annotations

import datetime as dt
import zoneinfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from followups.cadence.hours import Hours, days_later, instant, is_decent, next_decent

EIGHT_TO_NINE = Hours(dt.time(8), dt.time(21))
NEW_YORK = zoneinfo.ZoneInfo("America/New_York")
ZONES = [
    zoneinfo.ZoneInfo(f"{name}")
    for name in (
        "America/New_York",
        "America/Chicago",
        "America/Phoenix",
        "America/Los_Angeles",
        "Pacific/Honolulu",
        "America/Anchorage",
    )
]
# The days on which United States clocks change in 2026, and their neighbours (15 U.S.C. 260a).
DAYS = [
    changes + dt.timedelta(days=beside)
    for changes in (dt.date(2026, 3, 8), dt.date(2026, 11, 1))
    for beside in (-1, 0, 1)
]
WALLS = [dt.time(0, 30), dt.time(1, 30), dt.time(2, 30), dt.time(9), dt.time(20, 59)]
STILL = {"America/Phoenix", "Pacific/Honolulu"}


@pytest.mark.parametrize("zone", ZONES, ids=str)
@pytest.mark.parametrize("day", DAYS, ids=str)
@pytest.mark.parametrize("wall", WALLS, ids=str)
def test_a_wall_time_is_itself_except_in_the_gap(
    zone: zoneinfo.ZoneInfo, day: dt.date, wall: dt.time
) -> None:
    local = instant(day, wall, zone).astimezone(zone)
    in_gap = day == dt.date(2026, 3, 8) and wall == dt.time(2, 30) and str(zone) not in STILL
    assert local.replace(tzinfo=None) == dt.datetime.combine(day, dt.time(3) if in_gap else wall)
    assert local.fold == 0


def test_the_first_valid_minute_after_the_gap_and_the_first_of_two_in_the_fold() -> None:
    gap = instant(dt.date(2026, 3, 8), dt.time(2, 30), NEW_YORK)
    assert gap == dt.datetime(2026, 3, 8, 7, 0, tzinfo=dt.UTC)
    fold = instant(dt.date(2026, 11, 1), dt.time(1, 30), NEW_YORK)
    assert fold == dt.datetime(2026, 11, 1, 5, 30, tzinfo=dt.UTC)  # daylight time, not 6:30


def test_a_gap_of_half_an_hour_and_one_of_a_whole_day() -> None:
    lord_howe = zoneinfo.ZoneInfo("Australia/Lord_Howe")
    assert instant(dt.date(2026, 10, 4), dt.time(2, 10), lord_howe).astimezone(
        lord_howe
    ).time() == dt.time(2, 30)
    apia = zoneinfo.ZoneInfo("Pacific/Apia")  # skipped 30 December 2011
    after = instant(dt.date(2011, 12, 30), dt.time(9), apia).astimezone(apia)
    assert after == dt.datetime(2011, 12, 31, 0, 0, tzinfo=apia)


@pytest.mark.parametrize("zone", ZONES, ids=str)
@pytest.mark.parametrize("day", DAYS, ids=str)
@pytest.mark.parametrize(
    ("wall", "decent"),
    [
        (dt.time(0, 30), False),
        (dt.time(7, 59, 59), False),
        (dt.time(8), True),
        (dt.time(20, 59, 59), True),
        (dt.time(21), False),
    ],
    ids=str,
)
def test_eight_to_nine_by_the_clock_of_the_place(
    zone: zoneinfo.ZoneInfo, day: dt.date, wall: dt.time, decent: bool
) -> None:
    now = instant(day, wall, zone)
    assert is_decent(now, zone=zone, hours=EIGHT_TO_NINE) is decent
    following = next_decent(now, zone=zone, hours=EIGHT_TO_NINE).astimezone(zone)
    assert following == now if decent else following.time() == dt.time(8)


THREE_YEARS = 3 * 365 * 24 * 3600
MOMENTS = st.integers(0, THREE_YEARS).map(
    lambda seconds: dt.datetime(2025, 1, 1, tzinfo=dt.UTC) + dt.timedelta(seconds=seconds)
)
HOURS = st.builds(
    Hours,
    opens=st.times(dt.time(5), dt.time(12)).map(lambda t: t.replace(second=0, microsecond=0)),
    closes=st.times(dt.time(13), dt.time(23, 59)).map(lambda t: t.replace(second=0, microsecond=0)),
    days=st.frozensets(st.integers(1, 7), min_size=1),
)


@given(MOMENTS, st.sampled_from(ZONES), HOURS)
def test_the_next_decent_instant_is_the_first_one(
    now: dt.datetime, zone: zoneinfo.ZoneInfo, hours: Hours
) -> None:
    following = next_decent(now, zone=zone, hours=hours)
    assert following >= now
    assert hours.decent(following.astimezone(zone))
    step = now.replace(second=0)  # every whole minute before it is not decent
    while (step := step + dt.timedelta(minutes=7)) < following:
        assert not hours.decent(step.astimezone(zone))
    just_before = following - dt.timedelta(seconds=1)
    assert following == now or not hours.decent(just_before.astimezone(zone))


@given(MOMENTS, st.sampled_from(ZONES), st.integers(0, 30), st.sampled_from(WALLS))
def test_days_later_is_that_many_dates_later_there_and_decent(
    start: dt.datetime, zone: zoneinfo.ZoneInfo, days: int, wall: dt.time
) -> None:
    found = days_later(start, days=days, wall=wall, zone=zone, hours=EIGHT_TO_NINE)
    local = found.astimezone(zone)
    assert (local.date() - start.astimezone(zone).date()).days == days
    assert local.time() == (wall if dt.time(8) <= wall else dt.time(8))


def test_a_job_closed_late_in_the_evening_counts_from_its_own_date() -> None:
    closed = dt.datetime(2026, 3, 1, 23, 50, tzinfo=NEW_YORK)  # already the 2nd in UTC
    found = days_later(closed, days=7, wall=dt.time(10), zone=NEW_YORK, hours=EIGHT_TO_NINE)
    assert found == dt.datetime(2026, 3, 8, 14, 0, tzinfo=dt.UTC)  # 10:00 daylight time
    week = Hours(dt.time(8), dt.time(21), frozenset({1, 2, 3, 4, 5}))
    on_monday = days_later(closed, days=7, wall=dt.time(10), zone=NEW_YORK, hours=week)
    assert on_monday.astimezone(NEW_YORK) == dt.datetime(2026, 3, 9, 8, 0, tzinfo=NEW_YORK)


def test_hours_that_lie_in_the_gap_wait_for_the_next_day() -> None:
    night = Hours(dt.time(2, 15), dt.time(2, 45))
    found = next_decent(dt.datetime(2026, 3, 8, 0, 0, tzinfo=NEW_YORK), zone=NEW_YORK, hours=night)
    assert found.astimezone(NEW_YORK) == dt.datetime(2026, 3, 9, 2, 15, tzinfo=NEW_YORK)


@pytest.mark.parametrize(
    "wrong",
    [
        {"opens": dt.time(9), "closes": dt.time(9)},
        {"opens": dt.time(9), "closes": dt.time(20), "days": frozenset()},
        {"opens": dt.time(9), "closes": dt.time(20), "days": frozenset({0})},
    ],
)
def test_hours_that_never_come_are_refused(wrong: dict) -> None:
    with pytest.raises(ValueError, match="no decent hour"):
        Hours(**wrong)
