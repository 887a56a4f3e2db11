"""Jobs that are done, and what is owed and said after them, as the services make them."""

from __future__ import annotations

import datetime as dt
import zoneinfo
from typing import Any

from django.conf import settings
from django.utils import timezone

from contractor.models import CustomerLink, Person
from followups.cadence.words import Kind, State
from followups.models import Message
from followups.services import answers, check_ins
from jobs.models import Job, Visit
from jobs.planning.words import JobState, VisitState
from tests.factories import jobs as planned

ZONE = zoneinfo.ZoneInfo("America/New_York")
CLOSED_AT = dt.datetime(2026, 11, 30, 15, 20, tzinfo=ZONE)  # a Monday afternoon
WEEK_LATER = dt.datetime(2026, 12, 7, 10, 0, tzinfo=ZONE)


def done_visit(*people: Person, of: Job | None = None, **fields: Any) -> Visit:
    """A visit that took place, with these people on it."""
    visit = planned.planned(
        of=of or planned.job(**fields),
        by_crew=planned.crew(*people) if people else None,
        starts_at=planned.at(13),
    )
    Visit.objects.filter(pk=visit.pk).update(
        state=VisitState.DONE, arrived_at=visit.starts_at, left_at=visit.ends_at
    )
    visit.refresh_from_db()
    return visit


def closed_job(*people: Person, closed_at: dt.datetime = CLOSED_AT, **fields: Any) -> Job:
    """A job closed at a moment, with the mails that closing owes."""
    job = done_visit(*people, **fields).job
    job.state, job.closed_at, job.closed_by = JobState.CLOSED, closed_at, job.booked_by
    job.save()
    check_ins.owe_after_close_out(job=job, now=closed_at)
    return job


def message(job: Job, kind: Kind = Kind.CHECK_IN) -> Message:
    return Message.objects.get(job=job, kind=kind)


def sent_check_in(*people: Person, at: dt.datetime = WEEK_LATER, **fields: Any) -> Message:
    """A check-in that has left."""
    check_in = message(closed_job(*people, **fields))
    Message.objects.filter(pk=check_in.pk).update(state=State.SENT, sent_at=at)
    check_in.refresh_from_db()
    return check_in


def link(of: Message) -> CustomerLink:
    assert of.link is not None
    return of.link


def answered(of: Message, answer: str, text: str = "", **fields: Any):  # type: ignore[no-untyped-def]
    return answers.give_answer(
        link=link(of),
        answer=answer,
        text=text,
        now=fields.pop("now", WEEK_LATER + dt.timedelta(hours=2)),
        **fields,
    )


def letter(to: str = "customer@mail.example", *, due: dt.datetime | None = None) -> Message:
    """A message of no job, due since a while: praise may be sent to anyone."""
    number = Message.objects.count()
    due = due or timezone.now() - dt.timedelta(minutes=5)
    return Message.objects.create(
        dedup_key=f"callback:test:{number}",
        kind=Kind.CALLBACK,
        to=to,
        subject=f"Number {number}",
        body_text=f"Words of number {number}\n",
        time_zone="America/New_York",
        not_before=due,
        message_id=f"<number-{number}@{settings.DEFAULT_FROM_EMAIL.partition('@')[2]}>",
        written_at=due,
    )
