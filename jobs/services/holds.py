"""What a visit waits for: written down, released with who and when, and held again."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Person
from jobs.models import Hold, Inspection, Visit
from jobs.planning.words import HoldKind, VisitState
from jobs.services.locking import lock_visit, still_there

BEGUN = (VisitState.UNDER_WAY, VisitState.DONE)


@recorded
def add_hold(
    *, visit: Visit, kind: str, by: Person, label: str = "", inspection: Inspection | None = None,
    expected_on: dt.date | None = None,
) -> Hold:  # fmt: skip
    visit = lock_visit(visit)
    _not_begun(visit)
    hold = Hold(
        visit=visit, kind=kind, label=label.strip(), inspection=inspection, expected_on=expected_on
    )
    _check(hold)
    hold.save()
    return hold


@recorded
def change_hold(
    *, hold: Hold, by: Person, label: str, inspection: Inspection | None = None,
    expected_on: dt.date | None = None,
) -> Hold:  # fmt: skip
    hold = _locked(hold)
    hold.label, hold.inspection, hold.expected_on = label.strip(), inspection, expected_on
    _check(hold)
    hold.save()
    return hold


@recorded
def release_hold(*, hold: Hold, by: Person, now: dt.datetime, reason: str = "") -> Hold:
    """A person says it is so: the material is here, the utility has confirmed."""
    hold = _locked(hold)
    if hold.released_at is None:
        hold.released_at, hold.released_by, hold.reason = now, by, reason.strip()
        hold.save()
    return hold


@recorded
def unrelease_hold(*, hold: Hold, by: Person) -> Hold:
    """It is not so after all. A visit already planned stays planned and shows the hold."""
    hold = _locked(hold)
    _not_begun(hold.visit)
    hold_again([hold])
    return hold


@recorded
def remove_hold(*, hold: Hold, by: Person) -> None:
    hold = _locked(hold)
    _not_begun(hold.visit)
    hold.delete()


def let_go(holds: Iterable[Hold], *, by: Person, now: dt.datetime, reason: str) -> None:
    """Release those still held because something happened; the caller holds the job's lock."""
    for hold in holds:
        if hold.released_at is None:
            hold.released_at, hold.released_by, hold.reason = now, by, reason
            hold.save(update_fields=["released_at", "released_by", "reason"])


def hold_again(holds: Iterable[Hold]) -> None:
    for hold in holds:
        hold.released_at, hold.released_by, hold.reason = None, None, ""
        hold.save(update_fields=["released_at", "released_by", "reason"])


def _locked(hold: Hold) -> Hold:
    visit = lock_visit(still_there(Visit.objects.all(), hold.visit_id))
    found = still_there(Hold.objects.select_related("inspection"), hold.pk)
    found.visit = visit
    return found


def _not_begun(visit: Visit) -> None:
    if visit.state in BEGUN:
        raise Refused(
            "visit_begun", _("%(visit)s has begun: it waits for nothing.") % {"visit": visit.name}
        )


def _check(hold: Hold) -> None:
    if hold.kind == HoldKind.INSPECTION and hold.inspection is None:
        sentence = _("Say which inspection has to pass first.")
        raise Invalid("inspection_missing", sentence, fields={"inspection": sentence})
    if hold.kind != HoldKind.INSPECTION:
        hold.inspection = None
    if hold.inspection and hold.inspection.job_id != hold.visit.job_id:
        raise Invalid("other_job", _("That inspection belongs to another job."))
