"""What do we owe because of what just happened? Called by the jobs room, in its transaction."""

from __future__ import annotations

import datetime as dt

from contractor.models import Person
from followups.services import callbacks, check_ins, visit_news
from jobs.hooks import Before
from jobs.models import Job, Visit


def after_close_out(*, job: Job, visit: Visit | None, by: Person, now: dt.datetime) -> None:
    check_ins.owe_after_close_out(job=job, now=now)


def after_reopen(*, job: Job, by: Person, now: dt.datetime) -> None:
    check_ins.take_back_after_reopening(job=job)


def after_assign(*, visit: Visit, before: Before | None, by: Person, now: dt.datetime) -> None:
    visit_news.tell_planned(visit=visit, now=now)


def after_unassign(*, visit: Visit, before: Before, by: Person, now: dt.datetime) -> None:
    visit_news.tell_off(visit=visit, now=now)


def after_cancel(*, job: Job, by: Person, now: dt.datetime) -> None:
    visit_news.tell_job_off(job=job, now=now)
    callbacks.visit_fell_through(job=job, now=now)
