"""Pass praise on to the people who did the work, so that it reaches them as surely as blame."""

from __future__ import annotations

import datetime as dt

from django.db import transaction
from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.models import Person
from followups.cadence.words import Kind
from followups.models import Reply, Thanks
from followups.queries import praise
from followups.services import letters, owing
from jobs.models import Job


@transaction.atomic
def pass_on(
    *, job: Job, text: str, now: dt.datetime, reply: Reply | None = None, by: Person | None = None
) -> list[Thanks]:
    """Thanks for everyone who worked on the job, and a mail that quotes it by the job's name.

    `by` is the person in the office who passes it on; None when it came straight from the answer.
    The same reply is passed on once to each.
    """
    if not text.strip():
        raise Invalid(
            "praise_empty",
            _("Write down what they said."),
            fields={"text": _("Write down what they said.")},
        )
    people = list(praise.who_did(job))
    if not people and by is not None:
        raise Refused("nobody_worked", _("Nobody is written down as having worked on this job."))
    given = [_thank(person, job, text.strip(), now, reply, by) for person in people]
    return [thanks for thanks in given if thanks is not None]


@transaction.atomic
def mark_read(*, person: Person, now: dt.datetime) -> int:
    return Thanks.objects.filter(person=person, read_at__isnull=True).update(read_at=now)


def _thank(
    person: Person,
    job: Job,
    text: str,
    now: dt.datetime,
    reply: Reply | None,
    by: Person | None,
) -> Thanks | None:
    if reply is not None and Thanks.objects.filter(person=person, reply=reply).exists():
        return None
    thanks = Thanks.objects.create(
        person=person, job=job, reply=reply, text=text, given_at=now, passed_on_by=by
    )
    owing.owe(
        kind=Kind.THANKS,
        subject=f"job-{job.number}",
        slot=str(thanks.pk),
        addressee=owing.a_worker(person, job),
        compose=lambda _id, _firm: letters.praise(person=person, job=job, words=text),
        now=now,
    )
    return thanks
