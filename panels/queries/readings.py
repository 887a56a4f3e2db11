"""What do published values say of a reading on record, and of those of one visit together?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from panels.models import Reading
from panels.rules import readings as rules
from panels.rules.layout import System
from panels.rules.readings import Finding, Judgement, Measured

MARKS = {Finding.WITHIN: "done", Finding.OUTSIDE: "late", Finding.UNJUDGED: "open"}
UNITS = {"voltage": "V", "insulation": "MΩ", "torque": "lb-in"}


@dataclass(frozen=True)
class Judged:
    """A reading beside what published values say of it: first the criterion read in print, then
    the others that cover it."""

    reading: Reading
    judgement: Judgement
    others: tuple[Judgement, ...] = ()

    @property
    def is_outside(self) -> bool:
        return self.judgement.finding is Finding.OUTSIDE

    @property
    def mark(self) -> str:
        return MARKS[self.judgement.finding]

    @property
    def unit(self) -> str:
        return UNITS[self.reading.kind]


@dataclass(frozen=True)
class Together:
    """The voltages between the legs of one visit, and how far they differ."""

    taken_at: dt.datetime
    volts: dict[str, float]
    judgement: Judgement

    @property
    def mark(self) -> str:
        return MARKS[self.judgement.finding]

    @property
    def told(self) -> str:
        return ", ".join(f"{pair} {value:g} V" for pair, value in self.volts.items())


def judged(reading: Reading) -> Judged:
    """`reading.panel` should be loaded: its voltage system decides what is expected."""
    first, *others = rules.judgements(
        rules.Reading(
            kind=Measured(reading.kind),
            value=reading.value,
            between=reading.between,
            system=System(reading.panel.system),
            test_v=reading.test_v,
            temperature_c=reading.temperature_c,
            marked_value=reading.marked_value,
            instrument=reading.instrument,
        )
    )
    return Judged(reading, first, tuple(others))


def unbalances(readings: Iterable[Reading], system: System) -> list[Together]:
    """Of each visit (or of what was typed in at once) that measured between all three legs, the
    latest reading of each pair counting. Readings come latest first."""
    pairs = rules.between_legs(system)
    if len(pairs) != 3:
        return []
    visits: dict[Any, dict[str, Reading]] = {}
    for reading in readings:
        if reading.kind == Measured.VOLTAGE and reading.between in pairs:
            sets = visits.setdefault(reading.visit or reading.taken_at, {})
            sets.setdefault(reading.between, reading)
    found = []
    for taken in visits.values():
        volts = {pair: taken[pair].value for pair in pairs if pair in taken}
        told = rules.unbalance(list(volts.values())) if len(volts) == 3 else None
        if told is not None:
            latest = max(one.taken_at for one in taken.values())
            found.append(Together(latest, volts, told.judgement))
    return found
