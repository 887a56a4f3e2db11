"""Which messages are due, and what do the rows say about one at the moment of sending?"""

from __future__ import annotations

import datetime as dt
import zoneinfo

from django.db.models import QuerySet

from followups.cadence.decide import Facts
from followups.cadence.words import Kind, State
from followups.models import Message, Reply
from followups.queries import timing
from jobs.planning.words import JobState


def due(now: dt.datetime) -> QuerySet[Message]:
    return Message.objects.filter(state=State.DUE, not_before__lte=now).order_by("not_before", "id")


def leases_run_out(now: dt.datetime) -> QuerySet[Message]:
    return Message.objects.filter(state=State.SENDING, lease_until__lte=now)


def current_address(message: Message) -> str:
    """Where it would go now: a corrected address serves messages already written."""
    if message.customer is not None:
        return message.customer.email
    if message.person is not None:
        return message.person.email if message.person.is_active else ""
    return message.to


def facts(message: Message) -> Facts:
    """Everything that decides whether this message may go out, read now."""
    firm = timing.the_firm()
    job = message.job
    address = current_address(message)
    return Facts(
        kind=Kind(message.kind),
        zone=zoneinfo.ZoneInfo(message.time_zone),
        hours=timing.firm_hours(firm),
        not_after=message.not_after,
        has_address=bool(address),
        opted_out=bool(address) and timing.opted_out(address),
        job_cancelled=job is not None and job.state == JobState.CANCELLED,
        job_closed=job is None or job.state == JobState.CLOSED,
        answered=_answered(message),
        told=(message.told_from, message.told_until) if message.told_from else None,
        expected=timing.expected(message.visit),
    )


def _answered(message: Message) -> bool:
    """Whether they answered after the check-in left, which is when its reminder was written."""
    return (
        message.kind == Kind.REMINDER
        and Reply.objects.filter(job=message.job_id, answered_at__gte=message.written_at).exists()
    )
