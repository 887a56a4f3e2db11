"""Something is wrong: open a callback, book the visit, say what was done, or open it again."""

from __future__ import annotations

import datetime as dt
import uuid

from django.db import transaction
from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Person
from followups.cadence.words import CALLBACK_MOVES, CallbackState, Kind
from followups.models import Callback, Reply
from followups.queries import callbacks as queries
from followups.services import letters, owing
from jobs.models import Job, JobKind
from jobs.planning.words import JobState
from jobs.services import book_job

Cause = Callback.Cause


@transaction.atomic
def open_callback(
    *,
    job: Job,
    what: str,
    now: dt.datetime,
    reply: Reply | None = None,
    by: Person | None = None,
    callback_id: uuid.UUID | None = None,
) -> Callback:
    """Tied to the job, its last visit and the crew that made it; the customer hears that we know.

    `by` is who wrote it down in the office; None when the customer's answer opened it.
    """
    if not what.strip():
        raise Invalid(
            "what_missing",
            _("Write down what is wrong."),
            fields={"what": _("Write down what is wrong.")},
        )
    visit = queries.last_visit(job, now=now)
    callback = Callback.objects.create(
        id=callback_id or uuid.uuid4(),
        job=job,
        visit=visit,
        crew=visit.crew if visit else None,
        reply=reply,
        what=what.strip(),
        opened_at=now,
        opened_by=by,
    )
    _acknowledge(callback, now)
    return callback


def _acknowledge(callback: Callback, now: dt.datetime) -> None:
    job = callback.job
    owing.owe(
        kind=Kind.CALLBACK,
        subject=f"job-{job.number}",
        slot=str(callback.pk),
        addressee=owing.the_customer(job),
        compose=lambda _id, firm: letters.callback_received(
            job=job, words=callback.what, firm=firm
        ),
        now=now,
    )


@recorded
def note(
    *,
    callback: Callback,
    by: Person,
    rev: int | None = None,
    cause: str | None = None,
    cause_text: str | None = None,
    note: str | None = None,
) -> Callback:
    """Cause and note, as far as they are known; what is None stays as it is."""
    row = _locked(callback, rev)
    _set_cause(row, cause, cause_text)
    row.note = row.note if note is None else note.strip()
    row.save(update_fields=["cause", "cause_text", "note"])
    row.refresh_from_db()
    return row


@recorded
def book_visit(
    *, callback: Callback, title: str, by: Person, now: dt.datetime, rev: int | None = None
) -> Callback:
    """Book the job that answers it; its visit then waits to be planned like any other. One that
    was closed is opened again first.
    """
    row = _locked(callback, rev)
    if row.state == CallbackState.CLOSED:
        raise _already(row)
    _moved(row, CallbackState.BOOKED)
    row.booked_as = book_job(
        site=row.job.site,
        kind=JobKind.objects.get(answers_callbacks=True),
        title=title.strip() or _("Callback: %(job)s") % {"job": row.job.title},
        scope=row.what,
        by=by,
        now=now,
        callback_of=row.job,
    )
    row.save(update_fields=["state", "booked_as"])
    row.refresh_from_db()
    return row


@recorded
def close(
    *,
    callback: Callback,
    resolution: str,
    cause: str,
    by: Person,
    now: dt.datetime,
    cause_text: str | None = None,
    rev: int | None = None,
) -> Callback:
    """It is answered: what was done, and what brought us back."""
    missing = {}
    if not resolution.strip():
        missing["resolution"] = _("Write down what was done.")
    if not cause:
        missing["cause"] = _("Choose what brought us back; “no fault found” is one of them.")
    if missing:
        raise Invalid("closing_incomplete", " ".join(missing.values()), fields=missing)
    row = _moved(_locked(callback, rev), CallbackState.CLOSED)
    _set_cause(row, cause, cause_text)
    row.resolution, row.closed_at, row.closed_by = resolution.strip(), now, by
    row.save()
    row.refresh_from_db()
    return row


@recorded
def reopen(*, callback: Callback, by: Person, rev: int | None = None) -> Callback:
    """Open again, with what was written about it. A job booked for it stays booked while it is
    open; where that job is over, the callback waits for another visit.
    """
    row = _locked(callback, rev)
    is_booked = row.booked_as is not None and row.booked_as.state == JobState.OPEN
    _moved(row, CallbackState.BOOKED if is_booked else CallbackState.OPEN)
    row.closed_at = row.closed_by = None
    row.save(update_fields=["state", "closed_at", "closed_by"])
    row.refresh_from_db()
    return row


def visit_fell_through(*, job: Job, now: dt.datetime) -> None:
    """The job booked to answer callbacks was cancelled: they wait for a visit again."""
    for row in Callback.objects.select_for_update().filter(
        booked_as=job, state=CallbackState.BOOKED
    ):
        row.state, row.booked_as = CallbackState.OPEN, None
        row.save(update_fields=["state", "booked_as"])


def _locked(callback: Callback, rev: int | None) -> Callback:
    row = Callback.objects.select_for_update(of=("self",)).get(pk=callback.pk)
    row.require_rev(rev)
    return row


def _moved(row: Callback, to: CallbackState) -> Callback:
    if to not in CALLBACK_MOVES[CallbackState(row.state)]:
        raise _already(row)
    row.state = to
    return row


def _already(row: Callback) -> Refused:
    told = _("This callback is already “%(state)s”.") % {"state": row.get_state_display()}
    return Refused("wrong_state", told)


def _set_cause(row: Callback, cause: str | None, cause_text: str | None) -> None:
    if cause and cause not in Cause.values:
        raise Invalid(
            "cause_unknown", _("Choose a cause from the list."), fields={"cause": _("Unknown.")}
        )
    row.cause = row.cause if cause is None else cause
    row.cause_text = row.cause_text if cause_text is None else cause_text.strip()
