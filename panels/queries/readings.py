"""What do published values say of a reading on record?"""

from __future__ import annotations

from dataclasses import dataclass

from panels.models import Reading
from panels.rules import readings as rules
from panels.rules.layout import System
from panels.rules.readings import Finding, Judgement

MARKS = {Finding.WITHIN: "done", Finding.OUTSIDE: "late", Finding.UNJUDGED: "open"}
UNITS = {"voltage": "V", "insulation": "MΩ", "torque": "lb-in"}


@dataclass(frozen=True)
class Judged:
    """A reading beside what published values say of it."""

    reading: Reading
    judgement: Judgement

    @property
    def is_outside(self) -> bool:
        return self.judgement.finding is Finding.OUTSIDE

    @property
    def mark(self) -> str:
        return MARKS[self.judgement.finding]

    @property
    def unit(self) -> str:
        return UNITS[self.reading.kind]


def judged(reading: Reading) -> Judged:
    """`reading.panel` should be loaded: its voltage system decides what is expected."""
    judgement = rules.judge(
        kind=reading.kind,
        value=reading.value,
        between=reading.between,
        system=System(reading.panel.system),
        test_v=reading.test_v,
        temperature_c=reading.temperature_c,
        marked_value=reading.marked_value,
    )
    return Judged(reading, judgement)
