"""Owe a message, in the transaction of its cause, or take it back before it has left."""

from __future__ import annotations

import datetime as dt
import uuid
import zoneinfo
from collections.abc import Callable
from dataclasses import asdict, dataclass
from typing import TypedDict, Unpack

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


class About(TypedDict, total=False):
    """What else a message is tied to; `told` is when it says the visit is."""

    visit: Visit | None
    link: CustomerLink | None
    told: timing.Told | None


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
    **about: Unpack[About],
) -> Message:
    """The message owed for kind, subject and slot: written now, or the one written before.

    Call it inside the transaction of its cause: both are written, or neither. The words are
    composed in the firm's language and stored as they will be sent.
    """
    key = f"{kind}:{subject}:{slot}"
    written = Message.objects.filter(dedup_key=key).first()
    if written is not None:
        return written
    firm, zone = timing.the_firm(), addressee.zone
    hours = timing.firm_hours(firm)
    due = rules.due(kind, cause_at=now, zone=zone, hours=hours, days=days, event_at=event_at)
    message = Message(dedup_key=key, kind=kind, written_at=now, **asdict(due))
    _address(message, addressee, about)
    _compose(message, compose, firm)
    # Two at once: the second waits for the first to commit, then finds its row.
    Message.objects.bulk_create([message], ignore_conflicts=True)
    return Message.objects.get(dedup_key=key)


def _address(message: Message, addressee: Addressee, about: About) -> None:
    message.to, message.time_zone = addressee.to, addressee.zone.key
    message.job, message.customer = addressee.job, addressee.customer
    message.person = addressee.person
    message.visit, message.link = about.get("visit"), about.get("link")
    message.told_from, message.told_until = about.get("told") or (None, None)


def _compose(message: Message, compose: Compose, firm: Firm) -> None:
    with translation.override(firm.locale):
        words = letters.write(compose(message.pk, firm), firm=firm)
    message.subject, message.body_text, message.body_html = words.subject, words.text, words.html
    domain = settings.DEFAULT_FROM_EMAIL.rpartition("@")[2]
    message.message_id = f"<{message.pk}@{domain}>"


def take_back(messages: QuerySet[Message], *, reason: Reason) -> int:
    """Those that have not left yet never will; what is on its way is not touched."""
    return messages.filter(state__in=timing.WAITING).update(
        state=State.SKIPPED, why=sentence(reason)
    )
