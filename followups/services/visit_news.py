"""Tell the customer when we come: confirmed, moved, called off; never about a time that passed."""

from __future__ import annotations

import datetime as dt

from django.db.models import QuerySet

from followups.cadence.words import Kind, Reason
from followups.models import Message
from followups.queries import timing
from followups.services import letters, owing
from jobs.models import Job, Visit


def tell_planned(*, visit: Visit, now: dt.datetime) -> Message | None:
    """Owe what the customer has to hear about the visit's time, if they have not heard it.

    What was owed and has not left is taken back: shuffling the plan sends one mail, not five.
    """
    told = timing.expected(visit)
    waiting = _waiting(visit)
    if told is None or _says(waiting, told):
        return None
    owing.take_back(waiting, reason=Reason.OTHER_TIME)
    before = _reckoned_with(visit)
    if told[0] <= now or before == told:
        return None
    return owing.owe(
        kind=Kind.CHANGED if before else Kind.CONFIRMATION,
        subject=f"visit-{visit.pk}",
        slot=_slot(visit, told),
        addressee=owing.the_customer(visit.job),
        compose=lambda _id, firm: (
            letters.moved(visit=visit, told=told, instead_of=before, firm=firm)
            if before
            else letters.confirmed(visit=visit, told=told, firm=firm)
        ),
        now=now,
        event_at=told[0],
        visit=visit,
        told=told,
    )


def tell_off(*, visit: Visit, now: dt.datetime) -> Message | None:
    """The visit is off the plan: take back what has not left, call off what they were told."""
    owing.take_back(_waiting(visit), reason=Reason.OTHER_TIME)
    before = _reckoned_with(visit)
    if before is None or before[0] <= now:
        return None
    dates = [before]
    return owing.owe(
        kind=Kind.CANCELLED,
        subject=f"visit-{visit.pk}",
        slot=_slot(visit, before),
        addressee=owing.the_customer(visit.job),
        compose=lambda _id, _firm: letters.called_off(job=visit.job, dates=dates, for_good=False),
        now=now,
        event_at=before[0],
        visit=visit,
        told=before,
    )


def tell_job_off(*, job: Job, now: dt.datetime) -> Message | None:
    """The whole job is cancelled: one mail names every visit the customer reckons with."""
    about_it = job.messages.exclude(kind__in=[Kind.CALLBACK, Kind.THANKS])
    owing.take_back(about_it, reason=Reason.JOB_CANCELLED)
    dates = [
        (last.told_from, last.told_until)
        for last in timing.told_visits(job, now=now)
        if last.told_from
    ]
    if not dates:
        return None
    return owing.owe(
        kind=Kind.CANCELLED,
        subject=f"job-{job.number}",
        slot=_count(Message.objects.filter(job=job)),
        addressee=owing.the_customer(job),
        compose=lambda _id, _firm: letters.called_off(job=job, dates=dates, for_good=True),
        now=now,
        event_at=dates[0][0],
    )


def _reckoned_with(visit: Visit) -> timing.Told | None:
    """When the customer believes we come, from the last message they have, or may have."""
    last = timing.last_told(visit)
    if last is None or last.kind == Kind.CANCELLED or last.told_from is None:
        return None
    return last.told_from, last.told_until


def _says(waiting: QuerySet[Message], told: timing.Told) -> bool:
    """Whether what is about to leave says just this."""
    news = [Kind.CONFIRMATION, Kind.CHANGED]
    return waiting.filter(kind__in=news, told_from=told[0], told_until=told[1]).exists()


def _waiting(visit: Visit) -> QuerySet[Message]:
    return Message.objects.filter(
        visit=visit, kind__in=timing.ABOUT_VISITS, state__in=timing.WAITING
    )


def _slot(visit: Visit, told: timing.Told) -> str:
    """The time it is about, and how many came before: a visit may move away and back again."""
    return f"{told[0]:%Y-%m-%dT%H:%M}:{_count(Message.objects.filter(visit=visit))}"


def _count(messages: QuerySet[Message]) -> str:
    return str(messages.count())
