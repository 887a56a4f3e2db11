"""After the work: the walk-through mail at once, the check-in a week later, one reminder."""

from __future__ import annotations

import datetime as dt

from contractor.models import CustomerLink
from contractor.services.links import link_for
from followups.cadence.words import Kind, Reason, State
from followups.models import Message
from followups.queries import timing
from followups.services import letters, owing
from jobs.models import Job

AFTER_CLOSE_OUT = (Kind.WALK_THROUGH, Kind.CHECK_IN, Kind.REMINDER)


def owe_after_close_out(*, job: Job, now: dt.datetime) -> list[Message]:
    """The mails that close-out promises. The panel is explained once, however often the job is
    opened and closed again; the check-in counts from the last close-out.
    """
    owed = [_check_in(job, now)]
    if not job.messages.filter(kind=Kind.WALK_THROUGH, state__in=timing.OUT).exists():
        owed.append(_walk_through(job, now))
    return owed


def take_back_after_reopening(*, job: Job) -> None:
    owing.take_back(job.messages.filter(kind__in=AFTER_CLOSE_OUT), reason=Reason.JOB_REOPENED)


def owe_reminder(*, check_in: Message, now: dt.datetime) -> Message | None:
    """Owed when the check-in has left; whether they answered is asked when it is due."""
    if check_in.kind != Kind.CHECK_IN or check_in.state != State.SENT or not check_in.link:
        return None
    job, link = check_in.job, check_in.link
    if job is None:
        return None
    return owing.owe(
        kind=Kind.REMINDER,
        subject=f"job-{job.number}",
        slot=str(check_in.pk),
        addressee=owing.the_customer(job),
        compose=lambda identity, _firm: letters.reminder(job=job, message_id=identity, link=link),
        now=now,
        link=link,
    )


def _walk_through(job: Job, now: dt.datetime) -> Message:
    link = _panel_page(job, now)
    return owing.owe(
        kind=Kind.WALK_THROUGH,
        subject=f"job-{job.number}",
        slot=_slot(now),
        addressee=owing.the_customer(job),
        compose=lambda _id, firm: letters.walk_through(job=job, link=link, firm=firm),
        now=now,
        link=link,
    )


def _check_in(job: Job, now: dt.datetime) -> Message:
    link = link_for(site=job.site, purpose=CustomerLink.Purpose.ANSWER, subject=job.pk, now=now)
    return owing.owe(
        kind=Kind.CHECK_IN,
        subject=f"job-{job.number}",
        slot=_slot(now),
        addressee=owing.the_customer(job),
        compose=lambda identity, _firm: letters.check_in(job=job, message_id=identity, link=link),
        now=now,
        days=timing.the_firm().check_in_days,
        link=link,
    )


def _panel_page(job: Job, now: dt.datetime) -> CustomerLink | None:
    """The customer's page of the home, when there is a panel to show on it."""
    if not job.site.panels.exists():
        return None
    return link_for(site=job.site, purpose=CustomerLink.Purpose.MAIL, now=now)


def _slot(closed_at: dt.datetime) -> str:
    """One per close-out: closing the job again after it was opened is a new one."""
    return f"{closed_at.astimezone(dt.UTC):%Y-%m-%dT%H:%M:%S}"
