"""The words jobs are told in, and which state may follow which."""

from __future__ import annotations

import datetime as dt
import enum
from collections.abc import Sequence


def gettext_noop(words: str) -> str:
    """Marks a sentence for translation; the shell translates it, this package stays pure."""
    return words


class Word(enum.StrEnum):
    """A choice with a label for people."""

    @property
    def label(self) -> str:
        return self.value.replace("_", " ")


class HoldKind(Word):
    PERMIT = "permit"
    MATERIAL = "material"
    UTILITY = "utility"
    INSPECTION = "inspection"
    CUSTOMER = "customer"
    OTHER = "other"

    @property
    def label(self) -> str:
        return {
            "permit": "permit issued",
            "material": "material arrived",
            "utility": "utility appointment",
            "inspection": "inspection passed",
            "customer": "customer’s word",
            "other": "something else",
        }[self.value]


AWAITED = {
    "permit": gettext_noop("permit"),
    "material": gettext_noop("material"),
    "utility": gettext_noop("utility"),
    "inspection": gettext_noop("inspection"),
    "customer": gettext_noop("customer"),
    "other": gettext_noop("something else"),
}


def awaited(kind: str, *, what: str = "", inspection: str = "") -> str:
    """What a visit waits for, as one says it: "permit", "material (subpanel)",
    "Rough-in inspection"."""
    if inspection:
        return f"{inspection} {AWAITED[HoldKind.INSPECTION]}"
    if not what:
        return AWAITED[kind]
    return what if kind == HoldKind.OTHER else f"{AWAITED[kind]} ({what})"


class CloseOutKind(Word):
    CHECK = "check"
    TEXT = "text"
    PHOTO = "photo"
    VOLTAGE = "voltage"
    INSULATION = "insulation"
    TORQUE = "torque"
    DIRECTORY = "directory"
    SIGNATURE = "signature"

    @property
    def label(self) -> str:
        return {
            "check": "a tick",
            "text": "a note",
            "photo": "a photo",
            "voltage": "voltage readings",
            "insulation": "insulation resistance",
            "torque": "torque readings",
            "directory": "a directory issued",
            "signature": "the customer’s signature",
        }[self.value]


class JobState(Word):
    OPEN = "open"
    CLOSED = "closed"
    CANCELLED = "cancelled"


class VisitState(Word):
    UNPLANNED = "unplanned"
    PLANNED = "planned"
    UNDER_WAY = "under_way"
    DONE = "done"
    CANCELLED = "cancelled"


class PermitState(Word):
    NEEDED = "needed"
    APPLIED = "applied"
    ISSUED = "issued"
    FINALED = "finaled"
    CANCELLED = "cancelled"


class InspectionState(Word):
    DUE = "due"
    REQUESTED = "requested"
    PASSED = "passed"
    FAILED = "failed"
    CANCELLED = "cancelled"


class Code(Word):
    """What a refusal is about; programs and the firm's own rules name it by this."""

    JOB_CLOSED = "job_closed"
    VISIT_OVER = "visit_over"
    NOBODY = "nobody"
    TWICE = "twice"
    HOLD = "hold"
    LICENCE = "licence"
    CERTIFICATE = "certificate"
    PEOPLE = "people"
    APPRENTICE = "apprentice"
    ABSENT = "absent"
    WINDOW = "window"
    WORKDAY = "workday"
    HOURS = "hours"
    ORDER = "order"
    PAST = "past"

    @property
    def label(self) -> str:
        return CODE_LABELS[self.value]

    @property
    def never(self) -> bool:
        """No firm may override this one."""
        return self in NEVER


CODE_LABELS = {
    "job_closed": "the job is closed or cancelled",
    "visit_over": "the visit has begun or is over",
    "nobody": "nobody goes",
    "twice": "a person in two places at once",
    "hold": "a hold is not released",
    "licence": "no licence of the grade on site",
    "certificate": "no certificate on site",
    "people": "too few people",
    "apprentice": "an apprentice unsupervised",
    "absent": "a person is away",
    "window": "outside the promised arrival",
    "workday": "not a working day",
    "hours": "outside working hours",
    "order": "visits out of order",
    "past": "in the past",
}

NEVER = frozenset({Code.JOB_CLOSED, Code.VISIT_OVER, Code.NOBODY, Code.TWICE})

# What a firm lets its office insist on until it says otherwise: common practice, no source.
# Licences, certificates and supervision are law or contract nearly everywhere, so not those.
USUALLY_ALLOWED = frozenset(
    {
        Code.HOLD,
        Code.PEOPLE,
        Code.ABSENT,
        Code.WINDOW,
        Code.WORKDAY,
        Code.HOURS,
        Code.ORDER,
        Code.PAST,
    }
)


Moment = dt.datetime | dt.date | dt.time


def said(first: Moment | None, last: Moment | None = None) -> str:
    """A moment, or a span with its common part said once: "Tue Dec 1, 8:00 AM – 12:00 PM"."""
    if first is None:
        return ""
    if last is None or last == first:
        return _said(first)
    if isinstance(first, dt.datetime) and isinstance(last, dt.datetime):
        same_day = first.date() == last.date()
        return f"{_said(first)} – {_said(last.time() if same_day else last)}"
    return f"{_said(first)} – {_said(last)}"


def _said(moment: Moment) -> str:
    if isinstance(moment, dt.datetime):
        return f"{_said(moment.date())}, {_said(moment.time())}"
    if isinstance(moment, dt.date):
        return f"{moment:%a %b} {moment.day}"
    return f"{(moment.hour - 1) % 12 + 1}:{moment:%M %p}"


def listed(names: Sequence[str]) -> str:
    """Names as a person lists them: "Ann, Bob and Cy"."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


MOVES: dict[VisitState, set[VisitState]] = {
    VisitState.UNPLANNED: {VisitState.PLANNED, VisitState.CANCELLED},
    VisitState.PLANNED: {
        VisitState.PLANNED,
        VisitState.UNPLANNED,
        VisitState.UNDER_WAY,
        VisitState.DONE,
        VisitState.CANCELLED,
    },
    VisitState.UNDER_WAY: {VisitState.DONE, VisitState.PLANNED},
    VisitState.DONE: {VisitState.UNDER_WAY},
    VisitState.CANCELLED: {VisitState.UNPLANNED},
}
