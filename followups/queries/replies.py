"""What did customers answer, and who still waits for a word from us?"""

from __future__ import annotations

import datetime as dt

from django.db.models import Exists, OuterRef, QuerySet

from contractor.models import CustomerLink
from followups.cadence.words import Answer, Kind, State
from followups.models import Message, Reply
from jobs.planning.words import JobState

STILL_WORTH_ASKING = dt.timedelta(days=60)


def check_in_of(link: CustomerLink) -> Message | None:
    """The check-in this link answers: the last one that left, else the last one owed."""
    of_link = Message.objects.filter(link=link, kind=Kind.CHECK_IN).select_related(
        "job__site__customer", "job__site__utility"
    )
    left = of_link.filter(state=State.SENT).order_by("-sent_at").first()
    return left or of_link.order_by("-written_at").first()


def replies_by(link: CustomerLink) -> QuerySet[Reply]:
    """What was answered by this link, the last first."""
    return (
        Reply.objects.filter(message__link=link).prefetch_related("photos").order_by("-answered_at")
    )


def replies() -> QuerySet[Reply]:
    """With everything a line of the list shows."""
    return Reply.objects.select_related(
        "job__site__customer", "handled_by", "callback"
    ).prefetch_related("photos", "thanks__person")


def questions_waiting() -> QuerySet[Reply]:
    """Nobody has answered them yet, the longest waiting first."""
    return replies().filter(answer=Answer.QUESTION, handled_at__isnull=True).order_by("answered_at")


def check_ins_unanswered(now: dt.datetime) -> QuerySet[Message]:
    """Check-ins of the last 60 days that have no answer, of jobs still closed, the oldest first."""
    answered = Reply.objects.filter(job=OuterRef("job"), answered_at__gte=OuterRef("sent_at"))
    return (
        Message.objects.filter(
            kind=Kind.CHECK_IN,
            state=State.SENT,
            sent_at__range=(now - STILL_WORTH_ASKING, now),
            job__state=JobState.CLOSED,
        )
        .exclude(Exists(answered))
        .select_related("job__site__customer")
        .order_by("sent_at")
    )
