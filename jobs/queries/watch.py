"""What needs a look today: inspections due, failed and overdue, permits about to lapse."""

from __future__ import annotations

import datetime as dt

from django.db.models import Exists, OuterRef, Prefetch, Q, QuerySet

from jobs.models import Hold, Inspection, Permit, Visit
from jobs.planning.words import InspectionState, JobState, PermitState, VisitState

WAITING = (InspectionState.DUE, InspectionState.REQUESTED)


def inspections() -> QuerySet[Inspection]:
    """Every inspection of jobs that were not cancelled, with what a row shows."""
    return (
        Inspection.objects.exclude(job__state=JobState.CANCELLED)
        .select_related("job__site__authority", "job__site__customer", "after")
        .order_by("due_on", "window_from", "job__number", "order")
    )


def inspections_due(on: dt.date) -> QuerySet[Inspection]:
    """The work is done and the inspection may be had; not overdue yet."""
    return inspections().filter(state__in=WAITING, due_on__isnull=False).exclude(_late(on))


def inspections_overdue(on: dt.date) -> QuerySet[Inspection]:
    """Should have been by now, and the inspector is not on the way either."""
    return inspections().filter(_late(on), state__in=WAITING)


def _late(on: dt.date) -> Q:
    return Q(due_on__lt=on) & (Q(window_from__isnull=True) | Q(window_from__date__lt=on))


def inspections_failed() -> QuerySet[Inspection]:
    """Failed, and the repetition has not been passed yet."""
    again = Inspection.objects.filter(again_of=OuterRef("pk"), state__in=WAITING)
    return inspections().filter(Exists(again), state=InspectionState.FAILED)


def permits() -> QuerySet[Permit]:
    return (
        Permit.objects.exclude(job__state=JobState.CANCELLED)
        .select_related("authority", "job__site__customer", "job__kind")
        .order_by("expires_on", "job__number")
    )


def permits_lapsing(on: dt.date, days: int = 30) -> QuerySet[Permit]:
    """Issued permits good for at most `days` more, those lapsed already included."""
    return permits().filter(state=PermitState.ISSUED, expires_on__lte=on + dt.timedelta(days=days))


def unplanned(*, later: bool = True) -> QuerySet[Visit]:
    """Visits of open jobs that no crew is on: those free to be planned first, then those that
    wait, in the order the jobs were booked. Without `later` only the next one of each job."""
    holds = Hold.objects.filter(released_at=None).select_related("inspection")
    ahead = Visit.objects.filter(state=VisitState.UNPLANNED)
    earlier = ahead.filter(job=OuterRef("job"), order__lt=OuterRef("order"))
    rows = Visit.objects.filter(state=VisitState.UNPLANNED, job__state=JobState.OPEN).annotate(
        is_held=Exists(Hold.objects.filter(visit=OuterRef("pk"), released_at=None)),
        is_later=Exists(earlier),
    )
    if not later:
        rows = rows.filter(is_later=False)
    return (
        rows.select_related("job__site__customer", "job__kind")
        .prefetch_related(
            Prefetch("holds", queryset=holds, to_attr="open_holds"),
            Prefetch("job__visits", queryset=ahead, to_attr="unplanned_visits"),
        )
        .order_by("is_later", "is_held", "job__number", "order")
    )
