"""The visits of one job: added, changed, put in another order, cancelled and taken up again."""

from __future__ import annotations

import datetime as dt
import uuid

from django.db.models import ProtectedError
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.history import recorded
from contractor.models import CertificateKind, Person
from contractor.services.saving import made_before
from jobs import hooks
from jobs.models import Job, Visit
from jobs.planning.words import VisitState
from jobs.services.assigning import before, move, tell_and_take_off
from jobs.services.guards import must_be_open, unusable
from jobs.services.locking import lock_job, lock_visit
from jobs.services.ordering import move_one_place


@recorded
def add_visit(
    *, job: Job, name: str, by: Person, visit_id: uuid.UUID | None = None,
    expected_minutes: int = 120, people_needed: int = 1, grade_needed: int | None = None,
    certificate_needed: CertificateKind | None = None,
) -> Visit:  # fmt: skip
    """One more visit, after all the others until it is moved.

    Repeated with the same `visit_id` and content it answers with the visit already there.
    """
    job = lock_job(job)
    needs = {
        "name": name.strip(),
        "expected_minutes": expected_minutes,
        "people_needed": people_needed,
        "grade_needed": grade_needed,
        "certificate_needed": certificate_needed,
    }
    if there := made_before(Visit, visit_id, {"job": job, **needs}):
        return there
    must_be_open(job)
    last = job.visits.order_by("-order").first()
    visit = Visit(
        id=visit_id or uuid.uuid4(),
        job=job,
        order=last.order + 1 if last else 1,
        **needs,
    )
    _check(visit)
    visit.save(force_insert=True)
    return visit


@recorded
def change_visit(
    *, visit: Visit, by: Person, name: str, expected_minutes: int, people_needed: int,
    grade_needed: int | None, certificate_needed: CertificateKind | None, rev: int | None = None,
) -> Visit:  # fmt: skip
    """What the visit is called and needs. A crew already on it stays."""
    visit = lock_visit(visit)
    visit.require_rev(rev)
    must_be_open(visit.job)
    visit.name, visit.expected_minutes = name.strip(), expected_minutes
    visit.people_needed, visit.grade_needed = people_needed, grade_needed
    visit.certificate_needed = certificate_needed
    _check(visit)
    visit.save()
    visit.refresh_from_db(fields=["rev", "changed_at"])
    return visit


@recorded
def promise_arrival(
    *, visit: Visit, by: Person, now: dt.datetime, promised_from: dt.datetime | None,
    promised_until: dt.datetime | None, rev: int | None = None,
) -> Visit:  # fmt: skip
    """Between these times the customer was told somebody comes; both empty takes it back."""
    visit = lock_visit(visit)
    visit.require_rev(rev)
    must_be_open(visit.job)
    if (promised_from is None) != (promised_until is None):
        raise unusable("promised_until", _("A promise needs both its beginning and its end."))
    if promised_from and promised_until and promised_until <= promised_from:
        raise unusable("promised_until", _("The promised time ends before it begins."))
    was = before(visit)
    visit.promised_from, visit.promised_until = promised_from, promised_until
    visit.save(update_fields=["promised_from", "promised_until"])
    visit.refresh_from_db(fields=["rev", "changed_at"])
    if was:
        hooks.run("AFTER_ASSIGN", visit=visit, before=was, by=by, now=now)
    return visit


@recorded
def reorder_visit(*, visit: Visit, earlier: bool, by: Person) -> None:
    """One place earlier or later among the job's visits; at the end it stays."""
    visit = lock_visit(visit)
    move_one_place(visit.job.visits.order_by("order", "starts_at", "id"), visit, earlier=earlier)


@recorded
def cancel_visit(*, visit: Visit, by: Person, now: dt.datetime, rev: int | None = None) -> Visit:
    """It is not needed: off the plan, its people free."""
    visit = lock_visit(visit)
    visit.require_rev(rev)
    return tell_and_take_off(visit, to=VisitState.CANCELLED, by=by, now=now)


@recorded
def reinstate_visit(*, visit: Visit, by: Person) -> Visit:
    visit = lock_visit(visit)
    must_be_open(visit.job)
    move(visit, VisitState.UNPLANNED)
    visit.save(update_fields=["state"])
    visit.refresh_from_db(fields=["rev", "changed_at"])
    return visit


@recorded
def remove_visit(*, visit: Visit, by: Person) -> None:
    """Strike it out, if nothing has happened on it; what has happened is only ever cancelled."""
    visit = lock_visit(visit)
    happened = Refused(
        "visit_used",
        _("%(visit)s has been planned or worked on. Cancel it instead; its record is kept.")
        % {"visit": visit.name},
    )
    if visit.state not in (VisitState.UNPLANNED, VisitState.CANCELLED) or visit.arrived_at:
        raise happened
    try:
        visit.delete()
    except ProtectedError as error:
        raise happened from error


def _check(visit: Visit) -> None:
    if not visit.name:
        raise unusable("name", _("Name the visit, for example “Trim-out”."))
    if not 5 <= visit.expected_minutes <= 24 * 60:
        raise unusable("expected_minutes", _("A visit lasts between 5 minutes and one day."))
    if not 1 <= visit.people_needed <= 20:
        raise unusable("people_needed", _("A visit needs between 1 and 20 people."))
