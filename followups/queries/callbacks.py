"""Which work has to be answered for, by whom was it done, and how long have they waited?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from django.db.models import Exists, F, OuterRef, QuerySet
from django.utils import formats
from django.utils.translation import gettext as _

from followups.cadence.words import CallbackState
from followups.models import Callback
from jobs.models import Job, JobKind, Visit
from jobs.planning.words import VisitState


def last_visit(job: Job, *, now: dt.datetime) -> Visit | None:
    """The visit that ended last; else the last one planned before now; else none."""
    visits = job.visits.exclude(state=VisitState.CANCELLED).filter(starts_at__lte=now)
    ended = visits.filter(state__in=[VisitState.DONE, VisitState.UNDER_WAY])
    left = F("left_at").desc(nulls_last=True)
    return ended.order_by(left, "-ends_at").first() or visits.order_by(left, "-ends_at").first()


def callbacks() -> QuerySet[Callback]:
    """With everything a line of the list shows."""
    return Callback.objects.select_related(
        "job__site__customer", "job__kind", "crew", "visit", "reply", "booked_as"
    )


def waiting() -> QuerySet[Callback]:
    """Not closed yet, the longest waiting first."""
    return callbacks().exclude(state=CallbackState.CLOSED).order_by("opened_at")


def closed() -> QuerySet[Callback]:
    return callbacks().filter(state=CallbackState.CLOSED).order_by("-closed_at")


def open_for(job: Job) -> Callback | None:
    """The callback of this job that still waits, if there is one."""
    return job.callbacks.exclude(state=CallbackState.CLOSED).order_by("opened_at").first()


UNKNOWN = "unknown"


def filtered(
    rows: QuerySet[Callback], *, kind: str = "", cause: str = "",
    opened_since: dt.datetime | None = None, closed_since: dt.datetime | None = None,
) -> QuerySet[Callback]:  # fmt: skip
    """Of one kind of work, or of one cause; what is not a number or a cause finds nothing.

    `opened_since` as the watch list counts causes; `closed_since` as it counts kinds: each job
    closed since then that came back, by its last callback.
    """
    if opened_since:
        rows = rows.filter(opened_at__gte=opened_since)
    if closed_since:
        later = Callback.objects.filter(job=OuterRef("job"), opened_at__gt=OuterRef("opened_at"))
        rows = rows.filter(~Exists(later), job__closed_at__gte=closed_since)
    if kind:
        rows = rows.filter(job__kind=int(kind)) if _is_number(kind) else rows.none()
    if cause == UNKNOWN:
        return rows.filter(cause="")
    if cause:
        return rows.filter(cause=cause) if cause in Callback.Cause.values else rows.none()
    return rows


def _is_number(text: str) -> bool:
    return text.isdecimal() and len(text) < 10


def filter_in_words(
    asked: Mapping[str, str], *, opened_since: dt.date | None, closed_since: dt.date | None
) -> str:
    """What the list is narrowed to, as a person would say it."""
    cause, kind = asked.get("cause", ""), asked.get("kind", "")
    words: list[str] = []
    if _is_number(kind):
        words += JobKind.objects.filter(pk=int(kind)).values_list("name", flat=True)
    if cause:
        words.append(str(dict(Callback.Cause.choices).get(cause, _("cause not known yet"))))
    for told, day in (
        (_("opened since %(day)s"), opened_since),
        (_("the last one of each job closed since %(day)s"), closed_since),
    ):
        if day:
            words.append(told % {"day": formats.date_format(day)})
    return ", ".join(words)
