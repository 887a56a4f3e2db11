"""Permits: applied for, issued, extended, finaled; the dates follow the authority's own rule."""

from __future__ import annotations

import datetime as dt

from django.db.models import QuerySet
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.history import recorded
from contractor.models import Authority, Person
from jobs.models import Hold, Inspection, Job, Permit
from jobs.planning.permits import CountedFrom, ExpiryRule, Inspected, good_until
from jobs.planning.words import HoldKind, InspectionState, PermitState
from jobs.services.guards import unusable
from jobs.services.holds import hold_again, let_go
from jobs.services.locking import lock_job

OPEN = (InspectionState.DUE, InspectionState.REQUESTED)


@recorded
def add_permit(*, job: Job, by: Person, authority: Authority | None = None) -> Permit:
    """One more permit this job needs; holds for a permit then wait for it too."""
    job = lock_job(job)
    return Permit.objects.create(job=job, authority=authority or job.site.authority)


@recorded
def apply_for_permit(
    *, permit: Permit, on: dt.date, by: Person, authority: Authority | None = None
) -> Permit:
    permit = _locked(permit)
    _must_be(permit, PermitState.NEEDED, PermitState.APPLIED)
    permit.authority = authority or permit.authority or permit.job.site.authority
    _authority(permit)
    permit.applied_on, permit.state = on, PermitState.APPLIED
    permit.save()
    return permit


@recorded
def issue_permit(
    *, permit: Permit, number: str, issued_on: dt.date, by: Person, now: dt.datetime,
    authority: Authority | None = None,
) -> Permit:  # fmt: skip
    """Write down number and day, work out how long it is good, and release what waited for it.

    Repeated on an issued permit it corrects number and day.
    """
    permit = _locked(permit)
    _must_be(permit, PermitState.NEEDED, PermitState.APPLIED, PermitState.ISSUED)
    permit.authority = authority or permit.authority or permit.job.site.authority
    _authority(permit)
    if not number.strip():
        raise unusable("number", _("Type the number on the permit."))
    if permit.applied_on and issued_on < permit.applied_on:
        raise unusable("issued_on", _("A permit is issued on or after the day it was applied for."))
    if issued_on > now.astimezone(permit.job.site.zone).date():
        raise unusable("issued_on", _("The day of issue lies in the future."))
    permit.number, permit.issued_on, permit.state = number.strip(), issued_on, PermitState.ISSUED
    permit.expires_on = last_day(permit)
    permit.save()
    if not permit.job.permits.filter(state__in=[PermitState.NEEDED, PermitState.APPLIED]).exists():
        reason = _("permit %(number)s issued") % {"number": permit.number}
        let_go(_holds(permit.job), by=by, now=now, reason=reason)
    return permit


@recorded
def take_back_issue(*, permit: Permit, by: Person) -> Permit:
    """It was not issued after all: what its issue released waits again."""
    permit = _locked(permit)
    _must_be(permit, PermitState.ISSUED)
    permit.state = PermitState.APPLIED if permit.applied_on else PermitState.NEEDED
    reason = _("permit %(number)s issued") % {"number": permit.number}
    permit.number, permit.issued_on = "", None
    permit.expires_on = permit.extended_until = None
    permit.save()
    hold_again(_holds(permit.job).filter(reason=reason))
    return permit


@recorded
def extend_permit(*, permit: Permit, until: dt.date, by: Person) -> Permit:
    """The authority has extended it in writing until that day."""
    permit = _locked(permit)
    _must_be(permit, PermitState.ISSUED)
    if permit.expires_on and until <= permit.expires_on:
        raise unusable("until", _("An extension reaches further than the day it is good now."))
    permit.extended_until = until
    permit.expires_on = last_day(permit)
    permit.save()
    return permit


@recorded
def final_permit(*, permit: Permit, on: dt.date, by: Person) -> Permit:
    """Every inspection has passed and the authority has closed the permit."""
    permit = _locked(permit)
    _must_be(permit, PermitState.ISSUED)
    waiting = permit.job.inspections.filter(state__in=OPEN).first()
    if waiting:
        raise Refused(
            "inspection_open",
            _("%(inspection)s has not passed yet. Record its result or cancel it.")
            % {"inspection": waiting.name},
        )  # fmt: skip
    permit.finaled_on, permit.state = on, PermitState.FINALED
    permit.save()
    return permit


@recorded
def reopen_permit(*, permit: Permit, by: Person) -> Permit:
    """It was not finaled after all, or not cancelled."""
    permit = _locked(permit)
    _must_be(permit, PermitState.FINALED, PermitState.CANCELLED)
    permit.finaled_on = None
    if permit.issued_on and permit.number:
        permit.state = PermitState.ISSUED
        permit.expires_on = last_day(permit)
    else:
        permit.state = PermitState.APPLIED if permit.applied_on else PermitState.NEEDED
    permit.save()
    return permit


@recorded
def cancel_permit(*, permit: Permit, by: Person) -> Permit:
    """No permit is needed here after all. Holds for it stay until a person releases them."""
    permit = _locked(permit)
    _must_be(permit, PermitState.NEEDED, PermitState.APPLIED, PermitState.ISSUED)
    permit.state = PermitState.CANCELLED
    permit.save()
    return permit


def last_day(permit: Permit) -> dt.date | None:
    """The last day the permit is good, by its authority's rule and the inspections so far."""
    if permit.issued_on is None or permit.authority is None:
        return None
    rule = ExpiryRule(
        days=permit.authority.permit_days,
        counted_from=CountedFrom(permit.authority.permit_days_from),
    )
    results = Inspection.objects.filter(
        job=permit.job_id, state__in=[InspectionState.PASSED, InspectionState.FAILED]
    )
    return good_until(
        rule,
        issued_on=permit.issued_on,
        inspections=[
            Inspected(on=row.done_on, passed=row.state == InspectionState.PASSED)
            for row in results
            if row.done_on
        ],
        extended_until=permit.extended_until,
    )


def count_again(job: Job) -> None:
    """After an inspection: how long are this job's permits good now?"""
    for permit in job.permits.filter(state=PermitState.ISSUED).select_related("authority"):
        good = last_day(permit)
        if good != permit.expires_on:
            permit.expires_on = good
            permit.save(update_fields=["expires_on"])


def _locked(permit: Permit) -> Permit:
    job = lock_job(Job(pk=permit.job_id))
    found = Permit.objects.select_related("authority").get(pk=permit.pk)
    found.job = job
    return found


def _holds(job: Job) -> QuerySet[Hold]:
    return Hold.objects.filter(visit__job=job, kind=HoldKind.PERMIT)


def _must_be(permit: Permit, *states: PermitState) -> None:
    if permit.state not in states:
        raise Refused(
            "wrong_state",
            _("This permit is %(state)s, so that cannot be done now.")
            % {"state": permit.get_state_display()},
        )


def _authority(permit: Permit) -> None:
    if permit.authority is None:
        raise unusable(
            "authority",
            _("Say which authority has jurisdiction at this site, so that its rules apply."),
        )
