"""Who is where on which day: the week, and one day of every crew."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field

from django.db.models import Prefetch, Q, QuerySet
from django.utils.translation import gettext as _

from contractor import queries as firm_queries
from contractor.access import visible
from contractor.models import Absence, Crew, Firm, Person
from jobs.models import Hold, Visit
from jobs.planning.steps import why_unplanned
from jobs.planning.words import VisitState, listed
from jobs.queries.planning import waiting_for

ON_THE_PLAN = (VisitState.PLANNED, VisitState.UNDER_WAY, VisitState.DONE)
FIRST_HOUR, LAST_HOUR = 6, 19  # what a day's strip shows; earlier and later work is cut off there


@dataclass(frozen=True)
class Cell:
    """One crew on one day."""

    crew: Crew
    day: dt.date
    visits: list[Visit]
    away: str = ""


@dataclass(frozen=True)
class Day:
    day: dt.date
    is_today: bool
    is_workday: bool
    cells: list[Cell]

    @property
    def is_empty(self) -> bool:
        return not any(cell.visits for cell in self.cells)


@dataclass(frozen=True)
class Week:
    first: dt.date
    days: list[Day]
    crews: list[Crew] = field(default_factory=list)
    today: dt.date | None = None

    @property
    def plan_day(self) -> dt.date:
        """The day to start planning on: tomorrow if this week is shown, else its first."""
        tomorrow = (self.today or self.first) + dt.timedelta(days=1)
        days = [day.day for day in self.days if day.is_workday]
        return next((day for day in days if day >= tomorrow), days[0] if days else self.first)

    @property
    def last(self) -> dt.date:
        return self.days[-1].day

    @property
    def before(self) -> dt.date:
        return self.first - dt.timedelta(days=7)

    @property
    def after(self) -> dt.date:
        return self.first + dt.timedelta(days=7)


def week(person: Person, *, on: dt.date, today: dt.date) -> Week:
    """The week `on` falls in: working days, and other days on which somebody works."""
    firm = firm_queries.firm() or Firm()
    first = on - dt.timedelta(days=on.weekday())
    days = [first + dt.timedelta(days=n) for n in range(7)]
    visits = list(visits_between(person, first, days[-1]))
    crews = crews_shown(person, visits)
    placed, away = by_crew_and_day(visits), absences(crews, first, days[-1])
    shown = [
        Day(
            day=day,
            is_today=day == today,
            is_workday=day.isoweekday() in firm.workdays,
            cells=[_cell(crew, day, placed, away) for crew in crews],
        )
        for day in days
    ]
    return Week(first, [day for day in shown if day.is_workday or not day.is_empty], crews, today)


def on_day(rows: QuerySet[Visit], first: dt.date, last: dt.date | None = None) -> QuerySet[Visit]:
    """Those that start on that day, or days, of the firm's zone."""
    zone = (firm_queries.firm() or Firm()).zone
    opens = dt.datetime.combine(first, dt.time(), tzinfo=zone)
    closes = dt.datetime.combine((last or first) + dt.timedelta(days=1), dt.time(), tzinfo=zone)
    return rows.filter(starts_at__gte=opens, starts_at__lt=closes)


def visits_between(person: Person, first: dt.date, last: dt.date) -> QuerySet[Visit]:
    """Visits on the plan that start on those days, with what a cell shows."""
    holds = Hold.objects.filter(released_at=None).select_related("inspection")
    return (
        on_day(visible(Visit.objects.all(), person), first, last)
        .filter(state__in=ON_THE_PLAN)
        .select_related("job__site__customer", "crew")
        .prefetch_related(Prefetch("holds", queryset=holds, to_attr="open_holds"))
        .order_by("starts_at", "job__number")
    )


def crews_shown(person: Person, visits: Sequence[Visit]) -> list[Crew]:
    """Crews that go out, and any other that has work that week; a technician sees their own."""
    with_work = {visit.crew_id for visit in visits}
    mine = Q(is_active=True) if person.is_office else Q(members__person=person)
    rows = Crew.objects.filter(mine | Q(pk__in=with_work)).distinct()
    return list(rows.select_related("lead").prefetch_related("people").order_by("name"))


def absences(crews: Sequence[Crew], first: dt.date, last: dt.date) -> list[Absence]:
    rows = Absence.objects.filter(
        person__memberships__crew__in=crews, first_day__lte=last, last_day__gte=first
    )
    return list(rows.select_related("person").distinct())


Placed = dict[tuple[int | None, dt.date | None], list[Visit]]


def by_crew_and_day(visits: Sequence[Visit]) -> Placed:
    placed: Placed = defaultdict(list)
    for visit in visits:
        held = [waiting_for(hold) for hold in visit.open_holds]  # type: ignore[attr-defined]
        visit.waits_for = _("waits for %(what)s") % {"what": listed(held)}  # type: ignore[attr-defined]
        placed[visit.crew_id, local_day(visit)].append(visit)
    return placed


def _cell(crew: Crew, day: dt.date, placed: Placed, away: Sequence[Absence]) -> Cell:
    members = {person.pk for person in crew.people.all()}
    missing = [
        f"{row.person.name} ({row.get_reason_display()})"
        for row in away
        if row.person_id in members and row.first_day <= day <= row.last_day
    ]
    return Cell(crew, day, placed.get((crew.pk, day), []), listed(missing))


def local_day(visit: Visit) -> dt.date | None:
    """The day at the site."""
    return visit.starts_at.astimezone(visit.job.site.zone).date() if visit.starts_at else None


def why_not_planned(visit: Visit) -> str:
    """For a visit listed by `unplanned`."""
    before = [
        other.name
        for other in visit.job.unplanned_visits  # type: ignore[attr-defined]
        if other.order < visit.order
    ]
    holds = [waiting_for(hold) for hold in visit.open_holds]  # type: ignore[attr-defined]
    words, values = why_unplanned(holds=holds, before=before)
    return _(words).format(**values)


@dataclass(frozen=True)
class Bar:
    """A visit on a crew's strip of the day, in minutes from the strip's beginning."""

    visit: Visit
    x: int
    width: int


@dataclass(frozen=True)
class Strip:
    """One crew's day, drawn as a line of hours."""

    crew: Crew
    bars: list[Bar]
    away: str


def strips(person: Person, *, on: dt.date) -> list[Strip]:
    """The day of every crew that goes out, to plan beside."""
    visits = list(visits_between(person, on, on))
    crews = crews_shown(person, visits)
    away = absences(crews, on, on)
    placed = by_crew_and_day(visits)
    cells = [_cell(crew, on, placed, away) for crew in crews]
    return [Strip(cell.crew, [bar(visit) for visit in cell.visits], cell.away) for cell in cells]


def bar(visit: Visit) -> Bar:
    zone = visit.job.site.zone
    if visit.starts_at is None or visit.ends_at is None:
        return Bar(visit, 0, 0)
    x, until = minute_of_strip(visit.starts_at, zone), minute_of_strip(visit.ends_at, zone)
    return Bar(visit, x, max(until - x, 5))


def minute_of_strip(moment: dt.datetime, zone: dt.tzinfo) -> int:
    local = moment.astimezone(zone)
    minute = local.hour * 60 + local.minute - FIRST_HOUR * 60
    return min(max(minute, 0), (LAST_HOUR - FIRST_HOUR) * 60)
