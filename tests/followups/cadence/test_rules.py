"""What is owed after which event, and when."""

from __future__ import annotations

import datetime as dt
import zoneinfo

import pytest

from followups.cadence.hours import Hours
from followups.cadence.rules import RULES, SOFT_TRIES, due, wait_after
from followups.cadence.words import Kind

ZONE = zoneinfo.ZoneInfo("America/New_York")
HOURS = Hours(dt.time(9), dt.time(20))


def at(day: int, hour: int, minute: int = 0) -> dt.datetime:
    return dt.datetime(2026, 11, day, hour, minute, tzinfo=ZONE)


def test_every_kind_of_message_has_a_rule() -> None:
    assert set(RULES) == set(Kind)
    asking = {kind for kind, rule in RULES.items() if rule.optional}
    assert asking == {Kind.CHECK_IN, Kind.REMINDER}


@pytest.mark.parametrize(
    ("kind", "cause", "expected"),
    [
        (Kind.WALK_THROUGH, at(2, 15), at(2, 15)),
        (Kind.WALK_THROUGH, at(2, 22), at(3, 9)),
        (Kind.CHECK_IN, at(2, 15), at(9, 10)),
        (Kind.CHECK_IN, at(2, 23, 59), at(9, 10)),
        (Kind.REMINDER, at(9, 10), at(13, 10)),
        (Kind.CONFIRMATION, at(2, 15), at(2, 15, 10)),
        (Kind.CONFIRMATION, at(2, 19, 55), at(3, 9)),
        (Kind.CALLBACK, at(2, 23), at(2, 23)),
        (Kind.THANKS, at(2, 3), at(2, 9)),
    ],
)
def test_when_each_kind_goes_out(kind: Kind, cause: dt.datetime, expected: dt.datetime) -> None:
    assert due(kind, cause_at=cause, zone=ZONE, hours=HOURS).not_before == expected


def test_the_firm_sets_the_days_to_its_check_in() -> None:
    found = due(Kind.CHECK_IN, cause_at=at(2, 15), zone=ZONE, hours=HOURS, days=3)
    assert found.not_before == at(5, 10)


def test_nothing_is_announced_after_it_happened() -> None:
    visit = at(4, 8)
    found = due(Kind.CONFIRMATION, cause_at=at(2, 15), zone=ZONE, hours=HOURS, event_at=visit)
    assert found.not_after == visit
    later = due(Kind.WALK_THROUGH, cause_at=at(2, 15), zone=ZONE, hours=HOURS)
    assert later.not_after == at(16, 15)


def test_waiting_grows_and_ends() -> None:
    waits = [wait_after(failures) for failures in range(1, SOFT_TRIES)]
    assert all(wait is not None for wait in waits)
    assert waits == sorted(waits)
    assert wait_after(SOFT_TRIES) is None
