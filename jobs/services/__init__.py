"""What is done to jobs: book, plan, release, inspect, close."""

from jobs.services.assigning import assign_crew, check, told, unassign
from jobs.services.booking import book_job, change_job
from jobs.services.cancelling import cancel_job, plan_of, reinstate_job, restore_plan
from jobs.services.holds import add_hold, change_hold, release_hold, remove_hold, unrelease_hold
from jobs.services.inspections import (
    add_inspection,
    cancel_inspection,
    change_inspection,
    fall_due,
    record_result,
    request_inspection,
    take_back_request,
    take_back_result,
)
from jobs.services.permits import (
    add_permit,
    apply_for_permit,
    cancel_permit,
    extend_permit,
    final_permit,
    issue_permit,
    reopen_permit,
    take_back_issue,
)
from jobs.services.visits import (
    add_visit,
    cancel_visit,
    change_visit,
    promise_arrival,
    reinstate_visit,
    remove_visit,
    reorder_visit,
)

__all__ = [
    "add_hold",
    "add_inspection",
    "add_permit",
    "add_visit",
    "apply_for_permit",
    "assign_crew",
    "book_job",
    "cancel_inspection",
    "cancel_job",
    "cancel_permit",
    "cancel_visit",
    "change_hold",
    "change_inspection",
    "change_job",
    "change_visit",
    "check",
    "extend_permit",
    "fall_due",
    "final_permit",
    "issue_permit",
    "plan_of",
    "promise_arrival",
    "record_result",
    "reinstate_job",
    "reinstate_visit",
    "release_hold",
    "remove_hold",
    "remove_visit",
    "reopen_permit",
    "reorder_visit",
    "request_inspection",
    "restore_plan",
    "take_back_issue",
    "take_back_request",
    "take_back_result",
    "told",
    "unassign",
    "unrelease_hold",
]
