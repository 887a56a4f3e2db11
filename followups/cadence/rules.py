"""What do we owe after which event, when, and for how long is it worth saying? One table.

The days and times are common practice, no source; a firm sets the days to its check-in itself.
"""

from __future__ import annotations

import datetime as dt
import zoneinfo
from dataclasses import dataclass

from followups.cadence.hours import Hours, days_later, next_decent
from followups.cadence.words import Kind

TEN = dt.time(10, 0)


@dataclass(frozen=True, kw_only=True)
class Rule:
    """When a kind of message is due, counted from its cause.

    `settle`: a while in which the cause may still be corrected and the message replaced.
    `good_for`: after that it is no longer worth sending. `optional`: asks for something, so an
    address that opted out never gets it, and it carries the firm's postal address and a way to
    stop (CAN-SPAM, 15 U.S.C. 7704(a)(3)-(5)). `any_hour`: the answer to something the person
    did this minute, which need not wait for morning.
    """

    days: int = 0
    at: dt.time | None = None
    settle: dt.timedelta = dt.timedelta()
    good_for: dt.timedelta
    optional: bool = False
    any_hour: bool = False


RULES: dict[Kind, Rule] = {
    Kind.CONFIRMATION: Rule(settle=dt.timedelta(minutes=10), good_for=dt.timedelta(days=30)),
    Kind.CHANGED: Rule(settle=dt.timedelta(minutes=10), good_for=dt.timedelta(days=30)),
    Kind.CANCELLED: Rule(settle=dt.timedelta(minutes=10), good_for=dt.timedelta(days=7)),
    Kind.WALK_THROUGH: Rule(good_for=dt.timedelta(days=14)),
    Kind.CHECK_IN: Rule(days=7, at=TEN, good_for=dt.timedelta(days=14), optional=True),
    Kind.REMINDER: Rule(days=4, at=TEN, good_for=dt.timedelta(days=7), optional=True),
    Kind.CALLBACK: Rule(good_for=dt.timedelta(days=2), any_hour=True),
    Kind.THANKS: Rule(good_for=dt.timedelta(days=30)),
}


@dataclass(frozen=True)
class Due:
    not_before: dt.datetime
    not_after: dt.datetime


def due(
    kind: Kind,
    *,
    cause_at: dt.datetime,
    zone: zoneinfo.ZoneInfo,
    hours: Hours,
    days: int | None = None,
    event_at: dt.datetime | None = None,
) -> Due:
    """When a message of this kind may go out: not before, and no later than.

    `days` replaces the rule's own; `event_at` is what it announces, after which it is pointless.
    """
    rule = RULES[kind]
    if rule.at is not None:
        wait = rule.days if days is None else days
        start = days_later(cause_at, days=wait, wall=rule.at, zone=zone, hours=hours)
    else:
        ready = cause_at.astimezone(dt.UTC) + rule.settle
        start = ready if rule.any_hour else next_decent(ready, zone=zone, hours=hours)
    last = start + rule.good_for
    return Due(start, min(last, event_at) if event_at else last)


SOFT_TRIES = 8


def wait_after(failures: int) -> dt.timedelta | None:
    """How long to wait after so many passing failures; None when it is time to tell a person.

    1, 3, 9, 27 minutes, then up to two hours: about eight hours in all.
    """
    if failures >= SOFT_TRIES:
        return None
    return min(dt.timedelta(minutes=3 ** (failures - 1)), dt.timedelta(hours=2))
