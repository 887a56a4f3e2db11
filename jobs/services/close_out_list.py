"""The lines of one job's close-out list: what has to be proved, before anyone proves it."""

from __future__ import annotations

import uuid

from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Person
from jobs.models import CloseOutLine, Job
from jobs.services.locking import lock_job, still_there
from jobs.services.ordering import move_one_place


@recorded
def add_line(
    *, job: Job, label: str, asks: str, by: Person, required: bool = True,
    may_not_apply: bool = True,
    line_id: uuid.UUID | None = None,
) -> CloseOutLine:  # fmt: skip
    job = _open(lock_job(job))
    last = job.close_out.order_by("-order").first()
    line = CloseOutLine(
        id=line_id or uuid.uuid4(), job=job, asks=asks, order=last.order + 1 if last else 1
    )
    return _write(line, label=label, required=required, may_not_apply=may_not_apply)


@recorded
def change_line(
    *, line: CloseOutLine, label: str, asks: str, required: bool, by: Person,
    may_not_apply: bool = True,
    rev: int | None = None,
) -> CloseOutLine:  # fmt: skip
    """Other words, or another proof as long as nobody has given the first one."""
    line = _locked(line)
    line.require_rev(rev)
    if asks != line.asks and line.done_at:
        raise _answered(line)
    line.asks = asks
    line = _write(line, label=label, required=required, may_not_apply=may_not_apply)
    line.refresh_from_db(fields=["rev", "changed_at"])
    return line


@recorded
def reorder_line(*, line: CloseOutLine, earlier: bool, by: Person) -> None:
    line = _locked(line)
    rows = line.job.close_out.order_by("order", "label")
    move_one_place(rows, line, earlier=earlier)


@recorded
def remove_line(*, line: CloseOutLine, by: Person) -> None:
    """Strike it out, if nothing was proved under it yet."""
    line = _locked(line)
    if line.done_at or line.photos.exists():
        raise _answered(line)
    line.delete()


def _locked(line: CloseOutLine) -> CloseOutLine:
    job = _open(lock_job(Job(pk=line.job_id)))
    found = still_there(CloseOutLine.objects.all(), line.pk)
    found.job = job
    return found


def _open(job: Job) -> Job:
    if job.closed_at:
        raise Refused("job_closed", _("The job is closed. Open it again to change its list."))
    return job


def _write(line: CloseOutLine, *, label: str, required: bool, may_not_apply: bool) -> CloseOutLine:
    if not label.strip():
        sentence = _("Say what the line asks for.")
        raise Invalid("label_missing", sentence, fields={"label": sentence})
    line.label, line.required, line.may_not_apply = label.strip(), required, may_not_apply
    line.save()
    return line


def _answered(line: CloseOutLine) -> Refused:
    return Refused(
        "line_answered",
        _("“%(line)s” has been answered already. Mark it as not required instead.")
        % {"line": line.label},
    )
