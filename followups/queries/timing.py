"""When may we speak, when does the customer expect us, and who wants to hear nothing?"""

from __future__ import annotations

import datetime as dt
import hashlib

from django.db.models import Q

from contractor import queries as firms
from contractor.models import Firm
from followups.cadence.hours import Hours
from followups.cadence.words import Kind, State
from followups.models import Message, OptOut
from jobs.models import Job, Visit
from jobs.planning.words import VisitState

Told = tuple[dt.datetime, dt.datetime | None]

# The words have left, or may have: the customer reckons with them.
OUT = (State.SENDING, State.SENT, State.UNSURE)
WAITING = (State.DUE, State.HELD)
ABOUT_VISITS = (Kind.CONFIRMATION, Kind.CHANGED, Kind.CANCELLED)


def the_firm() -> Firm:
    """The firm, or one with the usual hours before anyone has set it up."""
    return firms.firm() or Firm()


def firm_hours(firm: Firm) -> Hours:
    return Hours(firm.messages_from, firm.messages_until)


def expected(visit: Visit | None) -> Told | None:
    """When the customer is to expect the visit: within the promise while the plan keeps it,
    otherwise at the planned start. None while it is not on the plan.
    """
    if visit is None or visit.starts_at is None or visit.state != VisitState.PLANNED:
        return None
    return window(
        visit.starts_at, promised_from=visit.promised_from, promised_until=visit.promised_until
    )


def window(
    starts_at: dt.datetime,
    *,
    promised_from: dt.datetime | None,
    promised_until: dt.datetime | None,
) -> Told:
    if promised_from and promised_until and promised_from <= starts_at <= promised_until:
        return promised_from, promised_until
    return starts_at, None


def last_told(visit: Visit) -> Message | None:
    """The last message about this visit's time that the customer has, or may have."""
    of_visit = Q(visit=visit) | Q(visit__isnull=True, job=visit.job_id, kind=Kind.CANCELLED)
    return (
        Message.objects.filter(of_visit, kind__in=ABOUT_VISITS, state__in=OUT)
        .order_by("-written_at", "-not_before")
        .first()
    )


def told_visits(job: Job, *, now: dt.datetime) -> list[Message]:
    """For each visit the customer still reckons with, the last message that told them when."""
    found = []
    for visit in job.visits.all():
        last = last_told(visit)
        if last and last.kind != Kind.CANCELLED and last.told_from and last.told_from > now:
            found.append(last)
    return sorted(found, key=lambda message: message.told_from or now)


def address_hash(address: str) -> str:
    """SHA-256 of the address in lower case; enough to recognise it, not to write to it."""
    return hashlib.sha256(address.strip().lower().encode()).hexdigest()


def opted_out(address: str) -> bool:
    return OptOut.objects.filter(address_hash=address_hash(address)).exists()
