"""What can come of checking one thing by one rule, and what is said of it?"""

from __future__ import annotations

import enum
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Generic, NamedTuple, TypeVar

from panels.rules.check.facts import Record
from panels.rules.edition import Edition
from panels.rules.sourced import Sourced

T = TypeVar("T")


class Outcome(enum.StrEnum):
    """In the order a reader wants them."""

    FAIL = "fail"
    CANNOT_TELL = "cannot_tell"
    PASS = "pass"  # noqa: S105
    NOT_APPLICABLE = "not_applicable"

    @property
    def label(self) -> str:
        return {
            "fail": "fails",
            "cannot_tell": "cannot tell",
            "pass": "passes",
            "not_applicable": "does not apply",
        }[self.value]


class Place(NamedTuple):
    """Where what was found is put right: circuit, panel, home, entrance, source, readings, load."""

    kind: str
    id: str


@dataclass(frozen=True, kw_only=True)
class Subject(Generic[T]):
    """The thing judged; `label` is what people call it."""

    id: str
    label: str
    place: Place
    item: T


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """One outcome in one sentence. `missing` names what is not recorded; `advice` may go with a
    pass; `by` are the values it rests on besides the rule's own section; `place` overrides the
    subject's."""

    outcome: Outcome
    sentence: str
    missing: tuple[str, ...] = ()
    advice: str = ""
    by: tuple[Sourced[Any], ...] = ()
    place: Place | None = None


def passes(sentence: str, *by: Sourced[Any], advice: str = "") -> Verdict:
    return Verdict(outcome=Outcome.PASS, sentence=sentence, by=by, advice=advice)


def fails(sentence: str, *by: Sourced[Any], place: Place | None = None) -> Verdict:
    return Verdict(outcome=Outcome.FAIL, sentence=sentence, by=by, place=place)


def does_not_apply(sentence: str) -> Verdict:
    return Verdict(outcome=Outcome.NOT_APPLICABLE, sentence=sentence)


def cannot_tell(*missing: str, place: Place | None = None) -> Verdict:
    """Undecided until `missing` is on record; each a noun phrase: "the rooms it serves"."""
    told = f"Not recorded: {'; '.join(missing)}."
    return Verdict(outcome=Outcome.CANNOT_TELL, sentence=told, missing=missing, place=place)


@dataclass(frozen=True, kw_only=True)
class Rule(Generic[T]):
    """One predicate. `key` is its field in `edition.checks.in_force`, `id` its short name.

    `about` gives what it judges, by the structure of the record alone: learning more about a
    thing changes its outcome and never the number of outcomes.
    """

    key: str
    id: str
    title: str
    about: Callable[[Record], Sequence[Subject[T]]]
    judge: Callable[[T, Record, Edition], Verdict]

    def section(self, edition: Edition) -> Sourced[bool]:
        """Whether it is in force in this edition, and where it stands there."""
        found: Sourced[bool] = getattr(edition.checks.in_force, self.key)
        return found


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One outcome as it is shown: who, what, why, by which section, and where to go."""

    key: str
    rule: str
    title: str
    subject: str
    label: str
    outcome: Outcome
    sentence: str
    cite: str
    place: Place
    missing: tuple[str, ...] = ()
    advice: str = ""
    confirm: str = ""
    note: str = ""
