"""Cancel a job and take it up again; remember a plan so that it can be restored."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from django.utils.dateparse import parse_datetime
from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Crew, Person
from jobs import hooks
from jobs.models import Job, Visit
from jobs.planning.words import JobState, VisitState
from jobs.services.assigning import assign_crew, take_off, unassign
from jobs.services.locking import lock_job

Plan = Mapping[str, Any]


@recorded
def cancel_job(
    *, job: Job, because: str, by: Person, now: dt.datetime, rev: int | None = None
) -> Job:
    """Its planned visits come off the plan and the crews are free; nothing is thrown away."""
    job = lock_job(job)
    job.require_rev(rev)
    _must_be(job, JobState.OPEN)
    if not because.strip():
        sentence = _("Say why, for whoever asks later.")
        raise Invalid("reason_missing", sentence, fields={"because": sentence})
    for visit in job.visits.filter(state__in=[VisitState.PLANNED, VisitState.UNDER_WAY]):
        if visit.state == VisitState.UNDER_WAY:
            raise Refused(
                "visit_under_way",
                _("A crew is on site for %(visit)s. Finish that visit first.")
                % {"visit": visit.name},
            )
        take_off(visit, to=VisitState.UNPLANNED)
    job.state, job.cancelled_because = JobState.CANCELLED, because.strip()
    job.save(update_fields=["state", "cancelled_because"])
    job.refresh_from_db(fields=["rev", "changed_at"])
    hooks.run("AFTER_CANCEL", job=job, by=by, now=now)
    return job


@recorded
def reinstate_job(*, job: Job, by: Person, rev: int | None = None) -> Job:
    """The job is on again; its visits wait to be planned."""
    job = lock_job(job)
    job.require_rev(rev)
    _must_be(job, JobState.CANCELLED)
    job.state, job.cancelled_because = JobState.OPEN, ""
    job.save(update_fields=["state", "cancelled_because"])
    job.refresh_from_db(fields=["rev", "changed_at"])
    return job


def plan_of(visit: Visit) -> dict[str, Any]:
    """Where the visit stands on the plan, small enough to travel in an undo address."""
    if visit.crew_id is None or visit.starts_at is None or visit.ends_at is None:
        return {}
    return {
        "crew": visit.crew_id,
        "starts": visit.starts_at.isoformat(),
        "ends": visit.ends_at.isoformat(),
        "people": [str(row.person_id) for row in visit.assignments.all()],
    }


@recorded
def restore_plan(
    *, visit: Visit, plan: Plan, by: Person, now: dt.datetime, rev: int | None = None
) -> Visit:
    """Put the visit back where `plan_of` found it, if that is still possible.

    What was insisted on then is not asked about again; what no one may override still holds.
    """
    if not plan:
        return unassign(visit=visit, by=by, now=now, rev=rev)
    was = _("put back as it was planned before")
    starts, ends = parse_datetime(plan["starts"]), parse_datetime(plan["ends"])
    if starts is None or ends is None:
        raise Refused("undo_unreadable", _("This can no longer be undone."))
    codes = {row.code for row in visit.overrides.all()}
    return assign_crew(
        visit=visit,
        crew=Crew.objects.get(pk=plan["crew"]),
        people=Person.objects.filter(pk__in=plan["people"]),
        starts_at=starts,
        ends_at=ends,
        overrides=dict.fromkeys(codes, was),
        by=by,
        now=now,
        rev=rev,
    )


def _must_be(job: Job, state: JobState) -> None:
    if job.state != state:
        raise Refused(
            "wrong_state",
            _("%(job)s is %(state)s, so that cannot be done now.")
            % {"job": job, "state": job.get_state_display()},
        )
