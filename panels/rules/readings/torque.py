"""Was a terminal tightened to the value marked on the equipment?"""

from __future__ import annotations

from collections.abc import Iterator

from panels.rules.readings.kinds import Finding, Judgement, Reading, judgement, within
from panels.rules.sourced import Mark, Sourced

# No tolerance is given there, so none is allowed here: the maker's instructions decide.
MARKED: Sourced[None] = Sourced(
    value=None,
    cite="NFPA 70-2017, 110.14(D): the value marked on the equipment",
    mark=Mark.READ_2017,
)


def judged(reading: Reading) -> Iterator[Judgement]:
    finding, sentence = _against(reading.value, reading.marked_value)
    if not reading.instrument.strip():
        sentence += " Record the calibrated tool as well."
    yield judgement("marked", "Marked value", MARKED, finding, sentence)


def _against(value: float, marked: float | None) -> tuple[Finding, str]:
    if marked is None:
        return Finding.UNJUDGED, "Record the value marked on the equipment to compare with."
    if value == marked:
        return within(True), f"As marked, {value:g} lb-in."
    off = (value - marked) / marked
    return within(False), (
        f"{value:g} lb-in is {abs(off):.0%} {'over' if off > 0 else 'under'} the marked "
        f"{marked:g} lb-in. The maker’s instructions decide."
    )
