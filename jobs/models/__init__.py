"""The jobs' rows."""

from jobs.models.close_out import CloseOut, CloseOutLine, LineReading, Photo, Signature
from jobs.models.jobs import Assignment, Hold, Inspection, Job, Override, Permit, Visit
from jobs.models.kinds import JobKind, KindCloseOut, KindHold, KindInspection, KindVisit
from jobs.models.rules import OverrideRule, SupervisionRule

__all__ = [
    "Assignment",
    "CloseOut",
    "CloseOutLine",
    "Hold",
    "Inspection",
    "Job",
    "JobKind",
    "KindCloseOut",
    "KindHold",
    "KindInspection",
    "KindVisit",
    "LineReading",
    "Override",
    "OverrideRule",
    "Permit",
    "Photo",
    "Signature",
    "SupervisionRule",
    "Visit",
]
