"""Owe a message, in the transaction of its cause, or take it back before it has left."""

from __future__ import annotations

import datetime as dt
import uuid
import zoneinfo
from collections.abc import Callable
from dataclasses import dataclass

from django.conf import settings
from django.db.models import QuerySet
from django.utils import translation

from contractor.models import Customer, CustomerLink, Firm, Person
from followups.cadence import rules
from followups.cadence.words import Kind, Reason, State
from followups.models import Message
from followups.queries import timing
from followups.services import letters
from followups.services.reasons import sentence
from jobs.models import Job, Visit

Compose = Callable[[uuid.UUID, Firm], letters.Letter]


@dataclass(frozen=True, kw_only=True)
class Addressee:
    """Who is written to, about which job, and by which clock it is a decent hour there."""

    to: str
    zone: zoneinfo.ZoneInfo
    job: Job
    customer: Customer | None = None
    person: Person | None = None


def the_customer(job: Job) -> Addressee:
    customer = job.site.customer
    return Addressee(to=customer.email, zone=job.site.zone, job=job, customer=customer)


def a_worker(person: Person, job: Job) -> Addressee:
    zone = timing.the_firm().zone
    return Addressee(to=person.email, zone=zone, job=job, person=person)


def owe(
    *,
    kind: Kind,
    subject: str,
    slot: str,
    addressee: Addressee,
    compose: Compose,
    now: dt.datetime,
    days: int | None = None,
    event_at: dt.datetime | None = None,
    visit: Visit | None = None,
    told: timing.Told | None = None,
    link: CustomerLink | None = None,
) -> Message:
    """The message owed for kind, subject and slot: written now, or the one written before.

    Call it inside the transaction of its cause: both are written, or neither. The words are
    composed in the firm's language and stored as they will be sent.
    """
    key = f"{kind}:{subject}:{slot}"
    written = Message.objects.filter(dedup_key=key).first()
    if written is not None:
        return written
    firm = timing.the_firm()
    moment = rules.due(
        kind,
        cause_at=now,
        zone=addressee.zone,
        hours=timing.firm_hours(firm),
        days=days,
        event_at=event_at,
    )
    identity = uuid.uuid4()
    with translation.override(firm.locale):
        words = letters.write(compose(identity, firm), firm=firm)
    message = Message(
        id=identity,
        dedup_key=key,
        kind=kind,
        job=addressee.job,
        visit=visit,
        customer=addressee.customer,
        person=addressee.person,
        link=link,
        to=addressee.to,
        subject=words.subject,
        body_text=words.text,
        body_html=words.html,
        time_zone=addressee.zone.key,
        told_from=told[0] if told else None,
        told_until=told[1] if told else None,
        not_before=moment.not_before,
        not_after=moment.not_after,
        message_id=f"<{identity}@{settings.DEFAULT_FROM_EMAIL.rpartition('@')[2]}>",
        written_at=now,
    )
    # Two at once: the second waits for the first to commit, then finds its row.
    Message.objects.bulk_create([message], ignore_conflicts=True)
    return Message.objects.get(dedup_key=key)


def take_back(messages: QuerySet[Message], *, reason: Reason) -> int:
    """Those that have not left yet never will; what is on its way is not touched."""
    return messages.filter(state__in=timing.WAITING).update(
        state=State.SKIPPED, why=sentence(reason)
    )
