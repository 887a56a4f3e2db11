"""Close a job, or say everything that is missing; open it again with a reason."""

from __future__ import annotations

import datetime as dt
import uuid

from django.utils.translation import gettext as _

from contractor.access import Right, may
from contractor.errors import Invalid, Refused, Several
from contractor.history import recorded
from contractor.models import Person
from jobs import hooks
from jobs.models import CloseOut, Job, Visit
from jobs.planning.words import JobState, VisitState
from jobs.queries import close_out as queries
from jobs.queries.proof import proved
from jobs.services.field import finish
from jobs.services.guards import open_job, open_visit
from jobs.services.locking import lock_job
from panels.models import Panel
from panels.services.directory import issue_directory


@recorded
def close_job(
    *,
    job: Job,
    by: Person,
    now: dt.datetime,
    visit: Visit | None = None,
    issue_directories: bool = False,
    close_out_id: uuid.UUID | None = None,
    rev: int | None = None,
) -> CloseOut:
    """Closed: who, when, and all that was proved, as it is now.

    `visit` is the one it is closed from; if it is still under way, closing is leaving.
    `issue_directories` issues what changed first. Raises `Several` naming everything missing,
    and then nothing is written. The same request sent twice closes once.
    """
    there = _closed_by_this(job, close_out_id)
    if there:
        return there
    job = open_job(job, by)
    there = _closed_by_this(job, close_out_id)
    if there:
        return there
    job.require_rev(rev)
    if visit is not None:
        visit = _leave(visit, job, by, now)
    if issue_directories:
        _issue_pending(job, by, now)
    sheet = queries.sheet(job)
    if sheet.missing:
        raise Several([Refused(gap.about.value, queries.told(gap)) for gap in sheet.missing])
    visit = visit or _last(sheet.visits)
    close_out = CloseOut.objects.create(
        id=close_out_id or uuid.uuid4(), job=job, visit=visit, closed_by=by, closed_at=now,
        proved=proved(sheet),
    )  # fmt: skip
    job.state, job.closed_by, job.closed_at = JobState.CLOSED, by, now
    _save(job)
    hooks.run("AFTER_CLOSE_OUT", job=job, visit=visit, by=by, now=now)
    return close_out


@recorded
def reopen_job(
    *, job: Job, because: str, by: Person, now: dt.datetime, rev: int | None = None
) -> Job:
    """The office opens a closed job again, with a reason that stays beside its close-out."""
    if not may(by, Right.OFFICE):
        raise Refused("office_only", _("Ask the office: only they open a closed job again."))
    job = lock_job(job)
    if job.state == JobState.OPEN:
        return job
    job.require_rev(rev)
    close_out = queries.standing(job)
    if close_out is None:
        raise Refused("not_closed", _("This job is not closed, so it cannot be opened again."))
    if not because.strip():
        sentence = _("Say why, for whoever reads the record later.")
        raise Invalid("reason_missing", sentence, fields={"because": sentence})
    close_out.reopened_at, close_out.reopened_by = now, by
    close_out.reopened_because = because.strip()
    close_out.save(update_fields=["reopened_at", "reopened_by", "reopened_because"])
    job.state, job.closed_by, job.closed_at = JobState.OPEN, None, None
    _save(job)
    hooks.run("AFTER_REOPEN", job=job, by=by, now=now)
    return job


def _closed_by_this(job: Job, close_out_id: uuid.UUID | None) -> CloseOut | None:
    """The close-out this very request has made before."""
    there = CloseOut.objects.filter(pk=close_out_id).first() if close_out_id else None
    if there and there.job_id != job.pk:
        raise Refused("id_taken", _("Another job was closed under this id. Load the list anew."))
    return there


def _leave(visit: Visit, job: Job, by: Person, now: dt.datetime) -> Visit:
    visit = open_visit(visit, by)
    if visit.job_id != job.pk:
        raise Refused("other_job", _("That visit belongs to another job."))
    if visit.state == VisitState.UNDER_WAY:
        finish(visit, at=now)
    return visit


def _issue_pending(job: Job, by: Person, now: dt.datetime) -> None:
    for standing in queries.standings(job.site, since=job.booked_at):
        if standing.pending:
            issue_directory(panel=Panel.objects.get(pk=standing.key), by=by, now=now)


def _last(visits: list[Visit]) -> Visit | None:
    done = [visit for visit in visits if visit.left_at]
    return max(done, key=lambda visit: visit.left_at, default=None)  # type: ignore[arg-type,return-value]


def _save(job: Job) -> None:
    job.save(update_fields=["state", "closed_by", "closed_at"])
    job.refresh_from_db(fields=["rev", "changed_at"])
