"""Book a job: its next number, and a copy of what its kind lays out."""

from __future__ import annotations

import datetime as dt
import uuid

from django.db import connection
from django.db.models import Max
from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Person, Site
from jobs.models import (
    CloseOutLine,
    Hold,
    Inspection,
    Job,
    JobKind,
    KindInspection,
    KindVisit,
    Permit,
    Visit,
)
from jobs.services.guards import must_be_open

FIRST_NUMBER = 1001
NUMBERING = 7_406_001  # the advisory lock under which job numbers are given out
ASKS = ("label", "asks", "required", "may_not_apply", "order")
NEEDS = ("name", "order", "expected_minutes", "people_needed", "grade_needed", "certificate_needed")


@recorded
def book_job(
    *,
    site: Site,
    kind: JobKind,
    title: str,
    by: Person,
    now: dt.datetime,
    scope: str = "",
    job_id: uuid.UUID | None = None,
    callback_of: Job | None = None,
) -> Job:
    """The job with its visits, holds, permit, inspections and close-out list.

    Repeated with the same `job_id` and content it answers with the job already booked; with
    other content it is refused (`id_taken`).
    """
    title, scope = title.strip(), scope.strip()
    if not title:
        raise Invalid("title_missing", _("Say in a few words what is to be done."), fields={
            "title": _("Say in a few words what is to be done.")
        })  # fmt: skip
    number = _next_number()
    booked = Job.objects.filter(pk=job_id).first() if job_id else None
    if booked:
        return _same(booked, site=site, kind=kind, title=title, scope=scope)
    if not kind.is_active:
        raise Refused("kind_inactive", _("This kind of job is no longer offered. Choose another."))
    job = Job.objects.create(
        id=job_id or uuid.uuid4(),
        number=number,
        site=site,
        kind=kind,
        title=title,
        scope=scope,
        booked_by=by,
        booked_at=now,
        callback_of=callback_of,
    )
    _lay_out(job, kind)
    return job


def _next_number() -> int:
    """Under a lock held to the end of the transaction, so two bookings never share a number."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_advisory_xact_lock(%s)", [NUMBERING])
    last: int | None = Job.objects.aggregate(last=Max("number"))["last"]
    return FIRST_NUMBER if last is None else last + 1


def _same(booked: Job, **content: object) -> Job:
    if any(getattr(booked, name) != value for name, value in content.items()):
        raise Refused(
            "id_taken",
            _("A job with this id is booked already and says something else. Open it instead."),
        )
    return booked


def _lay_out(job: Job, kind: JobKind) -> None:
    visits = {
        plan.pk: Visit(job=job, **{name: getattr(plan, name) for name in NEEDS})
        for plan in kind.visits.all()
    }
    Visit.objects.bulk_create(visits.values())
    inspections = _inspections(job, kind, visits)
    _holds(kind, visits, inspections)
    if kind.needs_permit:
        Permit.objects.create(job=job, authority=job.site.authority)
    CloseOutLine.objects.bulk_create(
        CloseOutLine(job=job, **{name: getattr(line, name) for name in ASKS})
        for line in kind.close_out.all()
    )


def _inspections(job: Job, kind: JobKind, visits: dict[int, Visit]) -> dict[int, Inspection]:
    plans: list[KindInspection] = list(kind.inspections.all())
    rows = Inspection.objects.bulk_create(
        Inspection(
            job=job,
            after=visits[plan.after_id],
            name=plan.name,
            order=plan.order,
            due_days=plan.due_days,
        )
        for plan in plans
    )
    return {plan.pk: row for plan, row in zip(plans, rows, strict=True)}


def _holds(kind: JobKind, visits: dict[int, Visit], inspections: dict[int, Inspection]) -> None:
    plans: list[KindVisit] = list(kind.visits.prefetch_related("holds"))
    Hold.objects.bulk_create(
        Hold(
            visit=visits[plan.pk],
            kind=hold.kind,
            label=hold.label,
            inspection=inspections.get(hold.inspection_id or 0),
        )
        for plan in plans
        for hold in plan.holds.all()
    )


@recorded
def change_job(
    *, job: Job, by: Person, rev: int | None = None, title: str | None = None,
    scope: str | None = None,
) -> Job:  # fmt: skip
    """Other words for what is to be done."""
    job = Job.objects.select_for_update(no_key=True).get(pk=job.pk)
    job.require_rev(rev)
    must_be_open(job)
    if title is not None:
        job.title = title.strip()
    if scope is not None:
        job.scope = scope.strip()
    if not job.title:
        raise Invalid("title_missing", _("Say in a few words what is to be done."))
    job.save(update_fields=["title", "scope"])
    job.refresh_from_db()
    return job
