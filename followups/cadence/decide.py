"""May this message go out now? Asked again at the very moment of sending."""

from __future__ import annotations

import datetime as dt
import zoneinfo
from dataclasses import dataclass

from followups.cadence.hours import Hours, next_decent
from followups.cadence.rules import RULES
from followups.cadence.words import Kind, Reason, State

ABOUT_A_TIME = frozenset({Kind.CONFIRMATION, Kind.CHANGED})
ABOUT_FINISHED_WORK = frozenset({Kind.WALK_THROUGH, Kind.CHECK_IN, Kind.REMINDER})


@dataclass(frozen=True, kw_only=True)
class Facts:
    """What the rows say now. `expected`: when the customer would be told the visit is;
    `told`: when this message says it is. None when there is no such visit."""

    kind: Kind
    zone: zoneinfo.ZoneInfo
    hours: Hours
    not_after: dt.datetime | None = None
    has_address: bool = True
    opted_out: bool = False
    job_cancelled: bool = False
    job_closed: bool = True
    answered: bool = False
    told: tuple[dt.datetime, dt.datetime | None] | None = None
    expected: tuple[dt.datetime, dt.datetime | None] | None = None


@dataclass(frozen=True)
class Verdict:
    """`state` DUE with `until` means wait; SENDING means go; the others say why not."""

    state: State
    reason: Reason | None = None
    until: dt.datetime | None = None


GO = Verdict(State.SENDING)


def decide(facts: Facts, *, now: dt.datetime) -> Verdict:
    """Go, wait until, or never and why. The reasons that speak to the office come first."""
    reason = _pointless(facts) or _unwanted(facts)
    if reason is not None:
        return Verdict(State.SKIPPED, reason)
    if facts.not_after is not None and now > facts.not_after:
        return Verdict(State.EXPIRED, Reason.TOO_LATE)
    if RULES[facts.kind].any_hour:
        return GO
    earliest = next_decent(now, zone=facts.zone, hours=facts.hours)
    if earliest <= now:
        return GO
    if facts.not_after is not None and earliest > facts.not_after:
        return Verdict(State.EXPIRED, Reason.NO_DECENT_HOUR)
    return Verdict(State.DUE, until=earliest)


def _pointless(facts: Facts) -> Reason | None:
    """What it says is no longer so."""
    if facts.kind in ABOUT_FINISHED_WORK | ABOUT_A_TIME and facts.job_cancelled:
        return Reason.JOB_CANCELLED
    if facts.kind in ABOUT_FINISHED_WORK and not facts.job_closed:
        return Reason.JOB_REOPENED
    if facts.kind in ABOUT_A_TIME and facts.told != facts.expected:
        return Reason.OTHER_TIME
    if facts.kind is Kind.CANCELLED and facts.expected is not None:
        return Reason.PLANNED_AGAIN
    if facts.kind is Kind.REMINDER and facts.answered:
        return Reason.ANSWERED
    return None


def _unwanted(facts: Facts) -> Reason | None:
    if RULES[facts.kind].optional and facts.opted_out:
        return Reason.OPTED_OUT
    if not facts.has_address:
        return Reason.NO_ADDRESS
    return None
