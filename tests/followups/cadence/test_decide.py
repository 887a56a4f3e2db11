"""Asked again at the moment of sending: go, wait, or never and why."""

from __future__ import annotations

import datetime as dt
import zoneinfo
from dataclasses import replace

import pytest

from followups.cadence.decide import GO, Facts, decide
from followups.cadence.hours import Hours
from followups.cadence.words import Kind, Reason, State

ZONE = zoneinfo.ZoneInfo("America/New_York")
NOON = dt.datetime(2026, 12, 7, 12, 0, tzinfo=ZONE)
NIGHT = dt.datetime(2026, 12, 7, 22, 0, tzinfo=ZONE)
MORNING = dt.datetime(2026, 12, 8, 9, 0, tzinfo=ZONE)
TOLD = (dt.datetime(2026, 12, 9, 8, 0, tzinfo=ZONE), None)
OTHER = (dt.datetime(2026, 12, 9, 13, 0, tzinfo=ZONE), None)


def facts(kind: Kind = Kind.CHECK_IN, **changed: object) -> Facts:
    return replace(
        Facts(kind=kind, zone=ZONE, hours=Hours(dt.time(9), dt.time(20))),
        **changed,  # type: ignore[arg-type]
    )


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind not in ("confirmation", "changed")])
def test_at_noon_everything_wanted_goes(kind: Kind) -> None:
    assert decide(facts(kind), now=NOON) == GO


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind not in ("confirmation", "changed")])
def test_at_night_all_but_the_answer_to_a_report_waits(kind: Kind) -> None:
    verdict = decide(facts(kind), now=NIGHT)
    if kind is Kind.CALLBACK:
        assert verdict == GO
    else:
        assert verdict.state is State.DUE
        assert verdict.until == MORNING


@pytest.mark.parametrize(
    ("kind", "changed", "reason"),
    [
        (Kind.CHECK_IN, {"opted_out": True}, Reason.OPTED_OUT),
        (Kind.REMINDER, {"opted_out": True}, Reason.OPTED_OUT),
        (Kind.CONFIRMATION, {"told": TOLD, "expected": TOLD, "opted_out": True}, None),
        (Kind.CHECK_IN, {"has_address": False}, Reason.NO_ADDRESS),
        (Kind.CHECK_IN, {"job_cancelled": True}, Reason.JOB_CANCELLED),
        (Kind.CHECK_IN, {"job_closed": False}, Reason.JOB_REOPENED),
        (Kind.WALK_THROUGH, {"job_closed": False}, Reason.JOB_REOPENED),
        (Kind.REMINDER, {"answered": True}, Reason.ANSWERED),
        (Kind.CHECK_IN, {"answered": True}, None),
        (Kind.CONFIRMATION, {"told": TOLD, "expected": OTHER}, Reason.OTHER_TIME),
        (Kind.CONFIRMATION, {"told": TOLD, "expected": None}, Reason.OTHER_TIME),
        (Kind.CHANGED, {"told": TOLD, "expected": OTHER}, Reason.OTHER_TIME),
        (Kind.CHANGED, {"told": TOLD, "expected": TOLD, "job_closed": False}, None),
        (Kind.CANCELLED, {"told": TOLD, "expected": OTHER}, Reason.PLANNED_AGAIN),
        (Kind.CANCELLED, {"told": TOLD, "job_cancelled": True}, None),
        (Kind.CALLBACK, {"opted_out": True}, None),
    ],
)
def test_what_is_pointless_or_unwanted_is_not_sent(
    kind: Kind, changed: dict, reason: Reason | None
) -> None:
    verdict = decide(facts(kind, **changed), now=NOON)
    assert verdict.reason == reason
    assert verdict.state is (State.SKIPPED if reason else State.SENDING)


def test_past_its_time_it_expires() -> None:
    late = facts(Kind.WALK_THROUGH, not_after=NOON - dt.timedelta(seconds=1))
    assert decide(late, now=NOON).reason is Reason.TOO_LATE
    just = facts(Kind.WALK_THROUGH, not_after=NOON)
    assert decide(just, now=NOON) == GO


def test_no_decent_hour_before_the_visit_is_told_at_once() -> None:
    early = dt.datetime(2026, 12, 8, 7, 0, tzinfo=ZONE)
    told = (early, None)
    about = facts(Kind.CONFIRMATION, told=told, expected=told, not_after=early)
    verdict = decide(about, now=NIGHT)
    assert (verdict.state, verdict.reason) == (State.EXPIRED, Reason.NO_DECENT_HOUR)
