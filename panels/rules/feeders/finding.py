"""How is one check of a panel told: its state, its sentence, what to record where it cannot be?"""

from __future__ import annotations

import enum
from dataclasses import dataclass

from contractor.units import Q
from panels.rules.quantities import AMPERE, show


class State(enum.StrEnum):
    PASS = "pass"  # noqa: S105
    FAIL = "fail"
    UNKNOWN = "cannot tell"


NAMES = {
    "panel": "panel rating",
    "main": "main breaker",
    "device": "feeder breaker",
    "bus": "bus",
    "conductor": "conductors",
    "protection": "protection of the conductors",
    "secondary": "protection of the secondary",
}
LABELS = {State.PASS: "Fits", State.FAIL: "Does not fit", State.UNKNOWN: "Cannot tell"}


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One check at one panel. `left_a` is what is left to the limit, below zero where it fails.

    `record` is what to record so that it can be told; `at` the breaker it stands at (its place),
    empty for the panel itself. `confirm` is not empty when it rests on a value nobody has read.
    """

    panel: str
    check: str
    state: State
    sentence: str
    cite: str
    limit_a: float | None = None
    left_a: float | None = None
    record: str = ""
    at: str = ""
    confirm: str = ""

    @property
    def label(self) -> str:
        return LABELS[self.state]

    @property
    def name(self) -> str:
        return NAMES[self.check]


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """What a panel draws on its fullest leg: as connected, with continuous load at 125 %, and
    what of it is not on record."""

    plain_a: float
    continuous_a: float
    unknown: tuple[str, ...] = ()


LISTED = 3


def against(
    drawn: Drawn, limit: float, *, panel: str, check: str, what: str, cite: str,
    full_rated: bool = False, at: str = "",
) -> Finding:  # fmt: skip
    """A limit in amperes against the fullest leg. What is on record is a lower bound, so it can
    fail the check while something is missing, and cannot pass it."""
    amperes = drawn.plain_a if full_rated else drawn.continuous_a
    told = f"{a(amperes)} of {a(limit)}"
    left: float | None = limit - amperes
    state, record, said = State.PASS, "", f"{what}: {told}."
    if amperes > limit + 1e-6:
        least = "at least " if drawn.unknown else ""
        state, said = State.FAIL, f"{what}: {least}{told}. The load is above it."
    elif drawn.unknown:
        state, record, left = State.UNKNOWN, "the load", None
        because = f"cannot tell because the load of {_named(drawn.unknown)} is not recorded"
        known = f" Known so far: {told}." if amperes else ""
        said = f"{what}: {because}.{known}"
    return Finding(
        panel=panel, check=check, state=state, sentence=said, cite=cite, limit_a=limit,
        left_a=left, record=record, at=at,
    )  # fmt: skip


def _named(unknown: tuple[str, ...]) -> str:
    shown = ", ".join(unknown[:LISTED])
    more = len(unknown) - LISTED
    return f"{shown} and {more} more" if more > 0 else shown


def a(amperes: float) -> str:
    return show(Q(amperes, AMPERE))
