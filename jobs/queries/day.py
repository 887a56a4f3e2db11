"""One person's day, in the order it is driven."""

from __future__ import annotations

import datetime as dt
import zoneinfo
from dataclasses import dataclass

from django.db.models import Prefetch, Q, QuerySet

from contractor.models import Person
from jobs.models import Assignment, Hold, Inspection, Permit, Visit
from jobs.planning.words import InspectionState, PermitState, VisitState
from jobs.queries.planning import waiting_for

ON_THE_SHEET = (VisitState.PLANNED, VisitState.UNDER_WAY, VisitState.DONE)
DAY = dt.timedelta(days=1)


@dataclass(frozen=True)
class Stop:
    """One place on the run sheet, and everything worth knowing before the door opens."""

    visit: Visit
    mates: list[Person]
    holds: list[str]
    permits: list[Permit]
    inspections: list[Inspection]

    @property
    def waits(self) -> bool:
        return bool(self.holds) and self.visit.state == VisitState.PLANNED


def day_of(person: Person, on: dt.date) -> list[Stop]:
    """The visits this person is put on that start on that day at their site."""
    noon = dt.datetime.combine(on, dt.time(12), tzinfo=dt.UTC)
    near = Q(starts_at__gte=noon - 2 * DAY, starts_at__lt=noon + 2 * DAY)
    return [_stop(visit, person) for visit in _sheet(person).filter(near) if _day(visit) == on]


def next_stop(person: Person, *, after: dt.date, zone: zoneinfo.ZoneInfo) -> Visit | None:
    """The first visit after that day."""
    morning = dt.datetime.combine(after + DAY, dt.time(), tzinfo=zone)
    rows = _theirs(person).filter(starts_at__gte=morning, state__in=ON_THE_SHEET)
    return rows.select_related("job__site").order_by("starts_at").first()


def _theirs(person: Person) -> QuerySet[Visit]:
    return Visit.objects.filter(assignments__person=person)


def _sheet(person: Person) -> QuerySet[Visit]:
    crew = Assignment.objects.select_related("person").order_by("person__name")
    held = Hold.objects.filter(released_at=None).select_related("inspection")
    return (
        _theirs(person)
        .filter(state__in=ON_THE_SHEET)
        .select_related("job__site__customer", "crew")
        .prefetch_related(
            Prefetch("assignments", queryset=crew),
            Prefetch("holds", queryset=held, to_attr="open_holds"),
            "job__permits",
            "job__inspections",
        )
        .order_by("starts_at", "job__number")
    )


def _day(visit: Visit) -> dt.date | None:
    return visit.starts_at.astimezone(visit.job.site.zone).date() if visit.starts_at else None


def _stop(visit: Visit, person: Person) -> Stop:
    day = _day(visit)
    inspections = [
        row
        for row in visit.job.inspections.all()
        if row.state == InspectionState.REQUESTED
        and row.window_from
        and row.window_from.astimezone(visit.job.site.zone).date() == day
    ]
    return Stop(
        visit=visit,
        mates=[row.person for row in visit.assignments.all() if row.person_id != person.pk],
        holds=[waiting_for(hold) for hold in visit.open_holds],  # type: ignore[attr-defined]
        permits=[row for row in visit.job.permits.all() if row.state != PermitState.CANCELLED],
        inspections=inspections,
    )
