"""The words messages, answers and callbacks are told in, and which state may follow which."""

from __future__ import annotations

import enum


class Kind(enum.StrEnum):
    """What a message says."""

    CONFIRMATION = "confirmation"
    CHANGED = "changed"
    CANCELLED = "cancelled"
    WALK_THROUGH = "walk_through"
    CHECK_IN = "check_in"
    REMINDER = "reminder"
    CALLBACK = "callback"
    THANKS = "thanks"


class State(enum.StrEnum):
    """Where a message stands; every way out of `due` is seen by someone."""

    DUE = "due"
    SENDING = "sending"
    SENT = "sent"
    SKIPPED = "skipped"
    EXPIRED = "expired"
    UNSURE = "unsure"
    HELD = "held"
    FAILED = "failed"


class Reason(enum.StrEnum):
    """Why a message is not sent, or may not have been."""

    NO_ADDRESS = "no_address"
    OPTED_OUT = "opted_out"
    JOB_CANCELLED = "job_cancelled"
    JOB_REOPENED = "job_reopened"
    ANSWERED = "answered"
    OTHER_TIME = "other_time"
    PLANNED_AGAIN = "planned_again"
    TOO_LATE = "too_late"
    NO_DECENT_HOUR = "no_decent_hour"


class Answer(enum.StrEnum):
    WELL = "well"
    QUESTION = "question"
    WRONG = "wrong"


class CallbackState(enum.StrEnum):
    OPEN = "open"
    BOOKED = "booked"
    CLOSED = "closed"


MOVES: dict[State, frozenset[State]] = {
    State.DUE: frozenset(
        {State.DUE, State.SENDING, State.SENT, State.SKIPPED, State.EXPIRED, State.HELD,
         State.FAILED}
    ),
    # A lease that ran out before anything was handed over goes back to due.
    State.SENDING: frozenset({State.SENT, State.DUE, State.FAILED, State.UNSURE}),
    State.UNSURE: frozenset({State.SENT, State.DUE, State.SKIPPED}),
    State.HELD: frozenset({State.DUE, State.SENT, State.SKIPPED}),
    State.FAILED: frozenset({State.DUE, State.SENT, State.SKIPPED}),
    State.EXPIRED: frozenset({State.SENT}),
    State.SKIPPED: frozenset({State.DUE, State.SENT}),
    State.SENT: frozenset(),
}  # fmt: skip

CALLBACK_MOVES: dict[CallbackState, frozenset[CallbackState]] = {
    CallbackState.OPEN: frozenset({CallbackState.BOOKED, CallbackState.CLOSED}),
    CallbackState.BOOKED: frozenset({CallbackState.OPEN, CallbackState.CLOSED}),
    CallbackState.CLOSED: frozenset({CallbackState.OPEN, CallbackState.BOOKED}),
}
