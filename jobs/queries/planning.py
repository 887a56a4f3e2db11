"""What does the plan need to know of a visit, its people and its neighbours to judge it?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence

from django.db.backends.postgresql.psycopg_any import DateTimeTZRange
from django.db.models import Prefetch, QuerySet
from django.utils.translation import gettext

from contractor import queries as firm_queries
from contractor.models import Absence, Crew, Firm, Grade, Person, Site
from jobs.models import Assignment, Hold, KindHold, OverrideRule, SupervisionRule, Visit
from jobs.planning.asking import Ask, Away, Engaged, Held, Step, Worker
from jobs.planning.supervision import Supervision, rule_for
from jobs.planning.words import NEVER, USUALLY_ALLOWED, Code, JobState, VisitState, awaited

OVER = (VisitState.UNDER_WAY, VisitState.DONE, VisitState.CANCELLED)


def ask_for(
    visit: Visit,
    *,
    crew: Crew,
    people: Sequence[Person],
    starts_at: dt.datetime,
    ends_at: dt.datetime,
    now: dt.datetime,
) -> Ask:
    """All that may stand against the visit at that time; `visit.job.site` should be loaded."""
    job, site = visit.job, visit.job.site
    firm = firm_queries.firm() or Firm()
    before, after = neighbours(visit)
    grade = visit.grade_needed
    return Ask(
        job=str(job),
        visit=visit.name,
        crew=crew.name,
        starts=starts_at.astimezone(site.zone),
        ends=ends_at.astimezone(site.zone),
        now=now.astimezone(site.zone),
        workers=workers(people, site=site, starts=starts_at, ends=ends_at, without=visit),
        state=site.state,
        job_closed=job.state != JobState.OPEN,
        job_state=str(job.get_state_display()),
        visit_over=visit.state in OVER,
        visit_state=str(visit.get_state_display()),
        people_needed=visit.people_needed,
        grade_needed=grade,
        grade_name=str(Grade(grade).label) if grade is not None else "",
        certificate_needed=visit.certificate_needed.name if visit.certificate_needed else "",
        promised=promise(visit, site),
        holds=tuple(waiting_for(hold) for hold in open_holds(visit)),
        before=before,
        after=after,
        hours=(firm.work_starts, firm.work_ends),
        workdays=frozenset(firm.workdays),
        supervision=supervision(site.state),
    )


def promise(visit: Visit, site: Site) -> tuple[dt.datetime, dt.datetime] | None:
    if visit.promised_from is None or visit.promised_until is None:
        return None
    return visit.promised_from.astimezone(site.zone), visit.promised_until.astimezone(site.zone)


def open_holds(visit: Visit) -> QuerySet[Hold]:
    return visit.holds.filter(released_at__isnull=True).select_related("inspection")


def waiting_for(hold: Hold | KindHold) -> str:
    """ "Rough-in inspection", "material (subpanel)"."""
    inspection = hold.inspection.name if hold.inspection else ""
    return awaited(hold.kind, what=hold.label, inspection=inspection, told=gettext)


def workers(
    people: Sequence[Person],
    *,
    site: Site,
    starts: dt.datetime,
    ends: dt.datetime,
    without: Visit,
) -> tuple[Worker, ...]:
    """The people with what counts on those days: licences, certificates, absence, other visits."""
    overlapping = (
        Assignment.objects.filter(during__overlap=DateTimeTZRange(starts, ends))
        .exclude(visit=without)
        .select_related("visit__job__site")
    )
    first, last = starts.astimezone(site.zone).date(), ends.astimezone(site.zone).date()
    away = Absence.objects.filter(first_day__lte=last, last_day__gte=first)
    rows = (
        Person.objects.filter(pk__in=[person.pk for person in people])
        .prefetch_related(
            "licences",
            "certificates__kind",
            Prefetch("assignments", queryset=overlapping, to_attr="engaged"),
            Prefetch("absences", queryset=away, to_attr="away"),
        )
        .order_by("name")
    )
    return tuple(_worker(person, site) for person in rows)


def _worker(person: Person, site: Site) -> Worker:
    return Worker(
        name=person.name,
        licences=tuple(
            Held(grade=held.grade, state=held.state, expires_on=held.expires_on)
            for held in person.licences.all()
        ),
        certificates={held.kind.name: held.expires_on for held in person.certificates.all()},
        absences=tuple(
            Away(
                first_day=away.first_day,
                last_day=away.last_day,
                reason=str(away.get_reason_display()),
            )
            for away in person.away  # type: ignore[attr-defined]
        ),
        elsewhere=tuple(engaged(row, site) for row in person.engaged),  # type: ignore[attr-defined]
    )


def engaged(assignment: Assignment, site: Site) -> Engaged:
    visit = assignment.visit
    return Engaged(
        visit=str(visit),
        place=visit.job.site.street,
        starts=assignment.during.lower.astimezone(site.zone),
        ends=assignment.during.upper.astimezone(site.zone),
    )


def neighbours(visit: Visit) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    """Planned or begun visits of the same job that come before and after this one."""
    zone = visit.job.site.zone
    rows = Visit.objects.filter(
        job=visit.job_id, state__in=[VisitState.PLANNED, VisitState.UNDER_WAY]
    ).exclude(pk=visit.pk)

    def steps(found: Iterable[Visit]) -> tuple[Step, ...]:
        return tuple(
            Step(
                visit=row.name,
                starts=row.starts_at.astimezone(zone),
                ends=row.ends_at.astimezone(zone),
            )
            for row in found
            if row.starts_at and row.ends_at
        )

    return (
        steps(rows.filter(order__lt=visit.order)),
        steps(rows.filter(order__gt=visit.order)),
    )


def supervision(state: str) -> Supervision:
    return rule_for(
        state,
        [
            Supervision(
                state=row.state,
                apprentices_each=row.apprentices_per_supervisor,
                supervisor_grade=row.supervisor_grade,
                grade_name=str(row.get_supervisor_grade_display()),
                source=row.source,
            )
            for row in SupervisionRule.objects.filter(state__in=["", state])
        ],
    )


def may_override() -> frozenset[Code]:
    """What this firm lets its office insist on: the usual, with the firm's own changes."""
    said = {row.code: row.allowed for row in OverrideRule.objects.all()}
    return frozenset(
        code for code in Code if code not in NEVER and said.get(code.value, code in USUALLY_ALLOWED)
    )
