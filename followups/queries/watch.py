"""What must the owner see today, which work brings the firm back, and who was praised?"""

from __future__ import annotations

import datetime as dt
import itertools
import zoneinfo
from dataclasses import dataclass

from django.db.models import Count, Exists, F, Min, OuterRef, Q, QuerySet
from django.db.models.functions import TruncWeek

from contractor.models import Certificate, Licence
from contractor.queries.people import SOON
from followups.cadence.words import CallbackState
from followups.models import Callback, Thanks
from followups.queries import messages, replies
from followups.trend import Week, weeks_before
from jobs import queries as jobs
from jobs.models import Job

WEEKS = 12
PERMIT_DAYS = 30
PRAISE_DAYS = 28


@dataclass(frozen=True)
class Numbers:
    """Each opens its list."""

    callbacks: int
    oldest_callback: dt.datetime | None
    questions: int
    unanswered: int
    to_decide: int
    inspections_due: int
    inspections_overdue: int
    inspections_failed: int
    permits_lapsing: int
    unplanned: int


def numbers(*, now: dt.datetime, zone: zoneinfo.ZoneInfo) -> Numbers:
    today = now.astimezone(zone).date()
    waiting = Callback.objects.exclude(state=CallbackState.CLOSED).aggregate(
        count=Count("pk"), oldest=Min("opened_at")
    )
    return Numbers(
        callbacks=waiting["count"],
        oldest_callback=waiting["oldest"],
        questions=replies.questions_waiting().count(),
        unanswered=replies.check_ins_unanswered(now).count(),
        to_decide=messages.to_decide().count(),
        inspections_due=jobs.inspections_due(today).count(),
        inspections_overdue=jobs.inspections_overdue(today).count(),
        inspections_failed=jobs.inspections_failed().count(),
        permits_lapsing=jobs.permits_lapsing(today, PERMIT_DAYS).count(),
        unplanned=jobs.unplanned(later=False).count(),
    )


def licences_expiring(today: dt.date) -> list[Licence | Certificate]:
    """Licences and certificates of people who work here that run out within 60 days, or have."""
    soon = Q(person__is_active=True, expires_on__lte=today + SOON)
    found: list[Licence | Certificate] = [
        *Licence.objects.filter(soon).select_related("person"),
        *Certificate.objects.filter(soon).select_related("person", "kind"),
    ]
    return sorted(found, key=lambda row: (row.expires_on or today, str(row.person)))


@dataclass(frozen=True)
class Rate:
    """Of so many jobs closed in the period, so many have had a callback until now."""

    kind_id: int
    kind: str
    closed: int
    came_back: int

    @property
    def percent(self) -> int:
        return round(100 * self.came_back / self.closed)

    @property
    def is_few(self) -> bool:
        """With fewer than ten jobs one callback moves the share by more than ten percent."""
        return self.closed < 10


def came_back_by_kind(since: dt.datetime) -> list[Rate]:
    """Kinds of work closed since then, those that bring the firm back most often first."""
    brought_back = Exists(Callback.objects.filter(job=OuterRef("pk")))
    rows = (
        Job.objects.filter(closed_at__gte=since)
        .annotate(brought_back=brought_back)
        .order_by()
        .values("kind_id", "kind__name")
        .annotate(closed=Count("pk"), came_back=Count("pk", filter=Q(brought_back=True)))
    )
    rates = [
        Rate(row["kind_id"], row["kind__name"], row["closed"], row["came_back"]) for row in rows
    ]
    return sorted(rates, key=lambda rate: (-rate.came_back / rate.closed, rate.kind))


@dataclass(frozen=True)
class CauseCount:
    cause: str
    label: str
    count: int


def causes(since: dt.datetime) -> list[CauseCount]:
    """What brought the firm back since then; the empty cause is not known yet."""
    labels = dict(Callback.Cause.choices)
    rows = (
        Callback.objects.filter(opened_at__gte=since)
        .order_by()
        .values_list("cause")
        .annotate(count=Count("pk"))
        .order_by("-count", "cause")
    )
    return [CauseCount(cause, str(labels.get(cause, "")), count) for cause, count in rows]


def weeks(*, now: dt.datetime, zone: zoneinfo.ZoneInfo) -> list[Week]:
    """Jobs closed and callbacks opened, week by week (Monday to Sunday), this week the last."""
    mondays = weeks_before(now.astimezone(zone).date(), WEEKS)
    since = dt.datetime.combine(mondays[0], dt.time(), zone)
    closed = _by_week(Job.objects.filter(closed_at__gte=since), "closed_at", zone)
    opened = _by_week(Callback.objects.filter(opened_at__gte=since), "opened_at", zone)
    return [Week(monday, closed.get(monday, 0), opened.get(monday, 0)) for monday in mondays]


def _by_week(
    rows: QuerySet[Job] | QuerySet[Callback], moment: str, zone: zoneinfo.ZoneInfo
) -> dict[dt.date, int]:
    counted = (
        rows.annotate(week=TruncWeek(F(moment), tzinfo=zone))
        .order_by()
        .values_list("week")
        .annotate(count=Count("pk"))
    )
    return {week.date(): count for week, count in counted}


@dataclass(frozen=True)
class Praised:
    """The same words went to everyone who did the work."""

    at: dt.datetime
    text: str
    job: Job
    names: str


def recent_praise(since: dt.datetime, most: int = 5) -> list[Praised]:
    """What customers said lately, once each, with everyone it was passed on to."""
    rows = (
        Thanks.objects.filter(given_at__gte=since)
        .select_related("person", "job__site__customer")
        .order_by("-given_at", "person__name")[:100]
    )
    together = itertools.groupby(rows, key=lambda row: (row.given_at, row.job, row.text))
    said = [
        Praised(at, text, job, ", ".join(str(row.person) for row in group))
        for (at, job, text), group in together
    ]
    return said[:most]
