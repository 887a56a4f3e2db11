"""What do we owe because of what just happened? Called by the jobs room, in its transaction."""

from __future__ import annotations

import datetime as dt

from contractor.models import Person
from jobs.hooks import Before
from jobs.models import Job, Visit


def after_close_out(*, job: Job, visit: Visit | None, by: Person, now: dt.datetime) -> None:
    pass


def after_reopen(*, job: Job, by: Person, now: dt.datetime) -> None:
    pass


def after_assign(*, visit: Visit, before: Before | None, by: Person, now: dt.datetime) -> None:
    pass


def after_unassign(*, visit: Visit, before: Before, by: Person, now: dt.datetime) -> None:
    pass


def after_cancel(*, job: Job, by: Person, now: dt.datetime) -> None:
    pass
