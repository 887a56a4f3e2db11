"""The customer answers a check-in: keep it, and let what it says take its course."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Sequence

from django.db import transaction
from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import CustomerLink, Person
from contractor.services.pictures import Picture
from followups.cadence.words import Answer
from followups.models import Message, Reply, ReplyPhoto
from followups.queries import callbacks as open_callbacks
from followups.queries import replies
from followups.services import callbacks, praise
from jobs.models import Job

MOST_PHOTOS = 6


@transaction.atomic
def give_answer(
    *,
    link: CustomerLink,
    answer: str,
    text: str,
    now: dt.datetime,
    photos: Sequence[Picture] = (),
    reply_id: uuid.UUID | None = None,
) -> Reply:
    """Keep one answer. They may answer again: every answer is kept, the last one counts.

    "Something is wrong" opens a callback unless one of this job still waits; "all well" with
    words goes to the people who did the work. The same `reply_id` twice is one answer.
    """
    check_in, job = _asked(link)
    said = Reply.objects.filter(pk=reply_id, message=check_in).first() if reply_id else None
    if said is not None:
        return said
    if answer not in list(Answer):
        choose = _("Choose one of the three.")
        raise Invalid("answer_missing", choose, fields={"answer": choose})
    reply = Reply.objects.create(
        id=_unused(reply_id),
        message=check_in,
        job=job,
        answer=answer,
        text=text.strip(),
        answered_at=now,
    )
    _keep_photos(reply, photos[:MOST_PHOTOS])
    _CONSEQUENCES[Answer(answer)](reply, now)
    return reply


def _asked(link: CustomerLink) -> tuple[Message, Job]:
    """The check-in this answers, locked: two taps at once come one after the other."""
    check_in = replies.check_in_of(link)
    if check_in is None or check_in.job is None:
        raise Refused("nothing_asked", _("We have not asked you anything yet. Please call us."))
    Message.objects.select_for_update().get(pk=check_in.pk)
    return check_in, check_in.job


def _unused(reply_id: uuid.UUID | None) -> uuid.UUID:
    """The id the page was given, unless someone else's answer has it."""
    if reply_id is None or Reply.objects.filter(pk=reply_id).exists():
        return uuid.uuid4()
    return reply_id


def _keep_photos(reply: Reply, photos: Sequence[Picture]) -> None:
    ReplyPhoto.objects.bulk_create(
        ReplyPhoto(
            reply=reply, order=place, sha256=photo.sha256, width=photo.width, height=photo.height
        )
        for place, photo in enumerate(photos, start=1)
    )


def _all_well(reply: Reply, now: dt.datetime) -> None:
    if reply.text:
        praise.pass_on(job=reply.job, text=reply.text, reply=reply, now=now)


def _a_question(reply: Reply, now: dt.datetime) -> None:
    """It waits in the office's list until someone has answered it."""


def _something_wrong(reply: Reply, now: dt.datetime) -> None:
    if open_callbacks.open_for(reply.job) is None:
        what = reply.text or _("They gave no words. Call them.")
        callbacks.open_callback(job=reply.job, what=what, reply=reply, now=now)


_CONSEQUENCES = {
    Answer.WELL: _all_well,
    Answer.QUESTION: _a_question,
    Answer.WRONG: _something_wrong,
}


@recorded
def mark_answered(*, reply: Reply, how: str, by: Person, now: dt.datetime) -> Reply:
    """The office has answered the question; `how` says what they were told."""
    row = Reply.objects.select_for_update(of=("self",)).get(pk=reply.pk)
    if row.handled_at is not None:
        raise Refused(
            "answered_already", _("%(person)s has answered this.") % {"person": row.handled_by}
        )
    row.handled_at, row.handled_by, row.handled_how = now, by, how.strip()[:300]
    row.save(update_fields=["handled_at", "handled_by", "handled_how"])
    row.refresh_from_db()
    return row


@recorded
def mark_waiting(*, reply: Reply, by: Person) -> Reply:
    """Not answered after all."""
    row = Reply.objects.select_for_update(of=("self",)).get(pk=reply.pk)
    row.handled_at = row.handled_by = None
    row.save(update_fields=["handled_at", "handled_by"])
    row.refresh_from_db()
    return row
