"""What the jobs' rows say."""

from jobs.queries.planning import (
    ask_for,
    may_override,
    neighbours,
    open_holds,
    supervision,
    waiting_for,
)

__all__ = [
    "ask_for",
    "may_override",
    "neighbours",
    "open_holds",
    "supervision",
    "waiting_for",
]
