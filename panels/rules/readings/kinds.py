"""What is measured in the field, and what is said of a reading?"""

from __future__ import annotations

import enum
from dataclasses import dataclass
from typing import Any

from panels.rules.layout import System
from panels.rules.sourced import Sourced


class Measured(enum.StrEnum):
    VOLTAGE = "voltage"
    INSULATION = "insulation"
    TORQUE = "torque"


class Finding(enum.StrEnum):
    """How a reading stands against the published value."""

    WITHIN = "within"
    OUTSIDE = "outside"
    UNJUDGED = "unjudged"

    @property
    def label(self) -> str:
        return {"within": "within", "outside": "outside", "unjudged": "not judged"}[self.value]


@dataclass(frozen=True, kw_only=True)
class Judgement:
    """The finding, why in one sentence, by which publication (empty: none covers it), and what to
    confirm in print because nobody has read it there."""

    finding: Finding
    sentence: str
    source: str = ""
    criterion: str = ""
    title: str = ""
    confirm: str = ""


@dataclass(frozen=True, kw_only=True)
class Reading:
    """A value with what goes with it: V between two conductors, MΩ at a test voltage, lb-in.

    `rated_v` is the rated voltage of what an insulation test is of; taken from the system where
    it is not said.
    """

    kind: Measured
    value: float
    between: str = ""
    system: System = System.SPLIT_240
    test_v: int | None = None
    rated_v: float | None = None
    temperature_c: float | None = None
    marked_value: float | None = None
    instrument: str = ""


def judgement(
    key: str, title: str, source: Sourced[Any], finding: Finding, sentence: str
) -> Judgement:
    """By a named criterion, with where it is written and whether it was read there."""
    return Judgement(
        finding=finding,
        sentence=f"{sentence} {source.note}".strip(),
        source=source.cite,
        criterion=key,
        title=title,
        confirm=source.confirm,
    )


def within(inside: bool) -> Finding:
    return Finding.WITHIN if inside else Finding.OUTSIDE
