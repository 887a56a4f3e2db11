"""Which rule does a plan break, about whom, said so that a coordinator can act on it?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum


class Rule(StrEnum):
    """What a plan has to keep; the code of its violation."""

    KNOWN_DAY = "known-day"
    KNOWN_PERSON = "known-person"
    KNOWN_VISIT = "known-visit"
    ONCE = "once"
    CREWS = "crews"
    AT_ONCE = "at-once"
    TOGETHER = "together"
    SOMEBODY = "somebody"
    ONE_RUN = "one-run-a-day"
    PRESENT = "present"
    SHIFT = "shift"
    AS_GROUPED = "as-grouped"
    LEVELS = "levels"
    HEADS = "heads"
    SUPERVISED = "supervised"
    WINDOW = "window"
    EARLIEST = "earliest"
    HOLD = "hold"
    PIN = "pin"
    AFTER = "after"
    SOON_AFTER = "soon-after"
    AFTER_PLANNED = "after-planned"
    OVERLAP = "overlap"
    TRAVEL = "travel"
    DEPOT = "depot"
    TOOLS = "tools"
    PARTS = "parts"
    BREAK = "break"
    DAY = "day"
    REQUIRED = "required"
    LEAVE_OUT = "leave-out"


@dataclass(frozen=True, kw_only=True)
class About:
    """Keys of the visits and people a violation is about, and the day's index where it has one."""

    visits: Sequence[str] = ()
    people: frozenset[str] = frozenset()
    day: int | None = None


@dataclass(frozen=True)
class Violation:
    """One break of one rule: `words` is the sentence with names in braces, `values` fills them."""

    code: Rule
    words: str
    values: Mapping[str, object]
    about: About

    @property
    def sentence(self) -> str:
        said = self.words.format(**self.values)
        # "a.m." and "Dec." bring a full stop of their own.
        said = said.removesuffix(".") if said.endswith("..") else said
        return said[:1].upper() + said[1:]


Found = Iterator[Violation]
