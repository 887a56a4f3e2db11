"""What the jobs' rows say."""

from jobs.queries.jobs import job_page, jobs, next_visit, step_in_words, with_step
from jobs.queries.planning import (
    ask_for,
    may_override,
    neighbours,
    open_holds,
    supervision,
    waiting_for,
)
from jobs.queries.watch import (
    inspections,
    inspections_due,
    inspections_failed,
    inspections_overdue,
    permits,
    permits_lapsing,
    unplanned,
)
from jobs.queries.week import on_day, strips, week, why_not_planned

__all__ = [
    "ask_for",
    "inspections",
    "inspections_due",
    "inspections_failed",
    "inspections_overdue",
    "job_page",
    "jobs",
    "may_override",
    "neighbours",
    "next_visit",
    "on_day",
    "open_holds",
    "permits",
    "permits_lapsing",
    "step_in_words",
    "strips",
    "supervision",
    "unplanned",
    "waiting_for",
    "week",
    "why_not_planned",
    "with_step",
]
