"""May this person work on this job in the field, is it still open, and what is wrong where?"""

from __future__ import annotations

from django.utils.translation import gettext as _

from contractor import access
from contractor.errors import Invalid, Refused
from contractor.models import Person
from jobs.models import CloseOutLine, Job, Visit
from jobs.planning.words import JobState
from jobs.services.locking import lock_job, lock_visit


def open_job(job: Job, by: Person) -> Job:
    """The job, locked; refused when it is closed or cancelled, or not theirs to work on."""
    _theirs(by, access.visible(Job.objects.filter(pk=job.pk), by).exists())
    locked = lock_job(job)
    _open(locked)
    return locked


def open_visit(visit: Visit, by: Person) -> Visit:
    _theirs(by, access.visible(Visit.objects.filter(pk=visit.pk), by).exists())
    locked = lock_visit(visit)
    _open(locked.job)
    return locked


def open_line(line: CloseOutLine, by: Person, *, rev: int | None = None) -> CloseOutLine:
    """The line as it is now, under its job's lock."""
    job = open_job(Job(pk=line.job_id), by)
    found = CloseOutLine.objects.filter(pk=line.pk).first()
    if found is None:
        raise Refused("gone", _("The office has taken this line off the list. Load the list anew."))
    found.require_rev(rev)
    found.job = job
    return found


def must_be_open(job: Job) -> None:
    """Refuse to change what a closed or cancelled job was to be."""
    if job.state != JobState.OPEN:
        raise Refused(
            "job_closed",
            _("%(job)s is %(state)s: open it again first.")
            % {"job": job, "state": job.get_state_display()},
        )


def unusable(field: str, sentence: str) -> Invalid:
    """What was given for one field cannot be used, and why."""
    return Invalid(f"{field}_unusable", sentence, fields={field: sentence})


def _open(job: Job) -> None:
    if job.state == JobState.CLOSED:
        raise Refused(
            "job_closed",
            _(
                "Job %(number)s is closed, so its record stays as it is. "
                "The office can open it again."
            )
            % {"number": job.number},
        )
    if job.state == JobState.CANCELLED:
        raise Refused(
            "job_cancelled",
            _("Job %(number)s was cancelled. Ask the office before you go on.")
            % {"number": job.number},
        )


def _theirs(by: Person, seen: bool) -> None:
    if not seen:
        raise Refused(
            "not_yours",
            _("You are not on this visit, %(person)s. Ask the office to put you on it.")
            % {"person": by.name},
        )
