"""Inspections: when they fall due, when the inspector comes, what was found, and once more."""

from __future__ import annotations

import datetime as dt

from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.history import recorded
from contractor.models import Person
from jobs.models import Inspection, Job, Visit
from jobs.planning.permits import inspection_due_on
from jobs.planning.words import InspectionState, VisitState
from jobs.services.guards import unusable
from jobs.services.holds import hold_again, let_go
from jobs.services.locking import lock_job, still_there
from jobs.services.permits import count_again

WAITING = (InspectionState.DUE, InspectionState.REQUESTED)


@recorded
def add_inspection(
    *, job: Job, name: str, by: Person, after: Visit | None = None, due_days: int = 5
) -> Inspection:
    job = lock_job(job)
    inspection = Inspection(job=job, order=job.inspections.count() + 1)
    return _write(inspection, name=name, after=after, due_days=due_days)


@recorded
def change_inspection(
    *, inspection: Inspection, name: str, by: Person, after: Visit | None, due_days: int
) -> Inspection:
    inspection = _locked(inspection)
    _must_be(inspection, *WAITING)
    return _write(inspection, name=name, after=after, due_days=due_days)


def _write(inspection: Inspection, *, name: str, after: Visit | None, due_days: int) -> Inspection:
    if not name.strip():
        raise unusable("name", _("Name the inspection, as the authority calls it."))
    if after and after.job_id != inspection.job_id:
        raise unusable("after", _("That visit belongs to another job."))
    inspection.name, inspection.after, inspection.due_days = name.strip(), after, due_days
    if inspection.again_of is None:
        inspection.due_on = _due_on(inspection)
    inspection.save()
    return inspection


def _due_on(inspection: Inspection) -> dt.date | None:
    visit = inspection.after
    if visit is None or visit.state != VisitState.DONE or visit.left_at is None:
        return None
    day = visit.left_at.astimezone(inspection.job.site.zone).date()
    return inspection_due_on(work_done_on=day, days=inspection.due_days)


def fall_due(*, visit: Visit) -> None:
    """The visit is done, or is not after all: date the inspections that follow it.

    For the service that finishes or reopens a visit, inside its transaction and after it has
    written `state` and `left_at`; it holds the job's lock.
    """
    for inspection in visit.inspections.filter(state__in=WAITING, again_of__isnull=True):
        inspection.after = visit
        inspection.due_on = _due_on(inspection)
        inspection.save(update_fields=["due_on"])


@recorded
def request_inspection(
    *, inspection: Inspection, by: Person, window_from: dt.datetime | None = None,
    window_until: dt.datetime | None = None, inspector: str = "",
) -> Inspection:  # fmt: skip
    """Asked for; with the window and the inspector's name as far as they are known."""
    inspection = _locked(inspection)
    _must_be(inspection, *WAITING)
    if window_until and not window_from:
        raise unusable("window_from", _("Say from when the inspector may come."))
    if window_from and window_until and window_until <= window_from:
        raise unusable("window_until", _("The window ends before it starts."))
    inspection.window_from, inspection.window_until = window_from, window_until
    inspection.inspector, inspection.state = inspector.strip(), InspectionState.REQUESTED
    inspection.save()
    return inspection


@recorded
def take_back_request(*, inspection: Inspection, by: Person) -> Inspection:
    """Nobody was asked after all."""
    inspection = _locked(inspection)
    _must_be(inspection, InspectionState.REQUESTED)
    inspection.state, inspection.inspector = InspectionState.DUE, ""
    inspection.window_from = inspection.window_until = None
    inspection.save()
    return inspection


@recorded
def record_result(
    *, inspection: Inspection, passed: bool, on: dt.date, by: Person, now: dt.datetime,
    inspector: str = "", findings: str = "",
) -> Inspection:  # fmt: skip
    """Passed: what waited for it is released. Failed: the same inspection falls due once more,
    and what waited for this one waits for that one. Either may lengthen the permit."""
    inspection = _locked(inspection)
    _must_be(inspection, *WAITING)
    if not passed and not findings.strip():
        raise unusable(
            "findings", _("Write down what the inspector found, so the crew can mend it.")
        )
    if on > now.astimezone(inspection.job.site.zone).date():
        raise unusable("on", _("The day of the inspection lies in the future."))
    inspection.state = InspectionState.PASSED if passed else InspectionState.FAILED
    inspection.done_on, inspection.findings = on, findings.strip()
    inspection.inspector = inspector.strip() or inspection.inspector
    inspection.save()
    if passed:
        let_go(inspection.holds.all(), by=by, now=now, reason=_reason(inspection))
    else:
        inspection.holds.update(inspection=_once_more(inspection, on))
    count_again(inspection.job)
    return inspection


def _reason(inspection: Inspection) -> str:
    return _("%(inspection)s passed") % {"inspection": inspection.name}


def _once_more(failed: Inspection, on: dt.date) -> Inspection:
    return Inspection.objects.create(
        job=failed.job,
        after=failed.after,
        name=failed.name,
        order=failed.order,
        due_days=failed.due_days,
        due_on=inspection_due_on(work_done_on=on, days=failed.due_days),
        again_of=failed,
    )


@recorded
def take_back_result(*, inspection: Inspection, by: Person) -> Inspection:
    """The result was written down wrongly: everything that followed from it is undone."""
    inspection = _locked(inspection)
    _must_be(inspection, InspectionState.PASSED, InspectionState.FAILED, InspectionState.CANCELLED)
    if inspection.state == InspectionState.PASSED:
        hold_again(inspection.holds.filter(reason=_reason(inspection)))
    _undo_once_more(inspection)
    inspection.state = InspectionState.REQUESTED if inspection.window_from else InspectionState.DUE
    inspection.done_on, inspection.findings = None, ""
    inspection.save()
    count_again(inspection.job)
    return inspection


def _undo_once_more(inspection: Inspection) -> None:
    for again in inspection.again.all():
        if again.state != InspectionState.DUE:
            raise Refused(
                "repeated_already",
                _("%(inspection)s has been asked for again already. Take that back first.")
                % {"inspection": inspection.name},
            )
        again.holds.update(inspection=inspection)
        again.delete()


@recorded
def cancel_inspection(*, inspection: Inspection, by: Person) -> Inspection:
    """The authority asks for none. Holds for it stay until a person releases them."""
    inspection = _locked(inspection)
    _must_be(inspection, *WAITING)
    inspection.state = InspectionState.CANCELLED
    inspection.save()
    return inspection


def _locked(inspection: Inspection) -> Inspection:
    job = lock_job(Job(pk=inspection.job_id))
    found = still_there(Inspection.objects.select_related("after", "again_of"), inspection.pk)
    found.job = job
    return found


def _must_be(inspection: Inspection, *states: InspectionState) -> None:
    if inspection.state not in states:
        raise Refused(
            "wrong_state",
            _("%(inspection)s is %(state)s, so that cannot be done now.")
            % {"inspection": inspection.name, "state": inspection.get_state_display()},
        )
