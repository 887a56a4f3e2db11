"""The words jobs are told in, and which state may follow which."""

from __future__ import annotations

import datetime as dt
import enum
from collections.abc import Callable, Sequence


def gettext_noop(words: str) -> str:
    """Marks a sentence for translation; the shell translates it, this package stays pure."""
    return words


class Word(enum.StrEnum):
    """A choice with a label for people; the shell translates it."""

    @property
    def label(self) -> str:
        return STATES[self.value]


# What each state is called, marked for translation.
STATES = {
    "open": gettext_noop("open"),
    "closed": gettext_noop("closed"),
    "cancelled": gettext_noop("cancelled"),
    "unplanned": gettext_noop("unplanned"),
    "planned": gettext_noop("planned"),
    "under_way": gettext_noop("under way"),
    "done": gettext_noop("done"),
    "needed": gettext_noop("needed"),
    "applied": gettext_noop("applied"),
    "issued": gettext_noop("issued"),
    "finaled": gettext_noop("finaled"),
    "due": gettext_noop("due"),
    "requested": gettext_noop("requested"),
    "passed": gettext_noop("passed"),
    "failed": gettext_noop("failed"),
}


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
            "permit": gettext_noop("permit issued"),
            "material": gettext_noop("material arrived"),
            "utility": gettext_noop("utility appointment"),
            "inspection": gettext_noop("inspection passed"),
            "customer": gettext_noop("customer’s word"),
            "other": gettext_noop("something else"),
        }[self.value]


AWAITED = {
    "permit": gettext_noop("permit"),
    "material": gettext_noop("material"),
    "utility": gettext_noop("utility"),
    "inspection": gettext_noop("inspection"),
    "customer": gettext_noop("customer"),
    "other": gettext_noop("something else"),
}


def awaited(
    kind: str, *, what: str = "", inspection: str = "", told: Callable[[str], str] = str
) -> str:
    """What a visit waits for, as one says it: "permit", "material (subpanel)",
    "Rough-in inspection". `told` puts our own words into the reader's language."""
    if inspection:
        return f"{inspection} {told(AWAITED[HoldKind.INSPECTION])}"
    if not what:
        return told(AWAITED[kind])
    return what if kind == HoldKind.OTHER else f"{told(AWAITED[kind])} ({what})"


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
            "check": gettext_noop("a tick"),
            "text": gettext_noop("a note"),
            "photo": gettext_noop("a photo"),
            "voltage": gettext_noop("voltage readings"),
            "insulation": gettext_noop("insulation resistance"),
            "torque": gettext_noop("torque readings"),
            "directory": gettext_noop("a directory issued"),
            "signature": gettext_noop("the customer’s signature"),
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
    "job_closed": gettext_noop("the job is closed or cancelled"),
    "visit_over": gettext_noop("the visit has begun or is over"),
    "nobody": gettext_noop("nobody goes"),
    "twice": gettext_noop("a person in two places at once"),
    "hold": gettext_noop("a hold is not released"),
    "licence": gettext_noop("no licence of the grade on site"),
    "certificate": gettext_noop("no certificate on site"),
    "people": gettext_noop("too few people"),
    "apprentice": gettext_noop("an apprentice unsupervised"),
    "absent": gettext_noop("a person is away"),
    "window": gettext_noop("outside the promised arrival"),
    "workday": gettext_noop("not a working day"),
    "hours": gettext_noop("outside working hours"),
    "order": gettext_noop("visits out of order"),
    "past": gettext_noop("in the past"),
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
WHOLE_DAY = {0: "midnight", 12: "noon"}
# As Django's "N" writes them, so that a refusal and the page around it say one and the same.
MONTHS = (
    "Jan.", "Feb.", "March", "April", "May", "June",
    "July", "Aug.", "Sept.", "Oct.", "Nov.", "Dec.",
)  # fmt: skip


def said(first: Moment | None, last: Moment | None = None) -> str:
    """A moment, or a span with its common part said once: "Tue Dec. 1, 8 a.m. – noon"."""
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
        return f"{moment:%a} {MONTHS[moment.month - 1]} {moment.day}"
    return clock(moment)


def clock(time: dt.time) -> str:
    """The hour as every screen writes it, Django's "P": "8 a.m.", "1:30 p.m.", "noon"."""
    if time.minute == 0 and time.hour in WHOLE_DAY:
        return WHOLE_DAY[time.hour]
    minutes = f":{time:%M}" if time.minute else ""
    return f"{(time.hour - 1) % 12 + 1}{minutes} {'a.m.' if time.hour < 12 else 'p.m.'}"


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
