"""Were terminals tightened to the value marked, with a tool made for it? (110.14(D))"""

from __future__ import annotations

from panels.rules.check import subjects
from panels.rules.check.facts import PanelPlate, Record
from panels.rules.check.outcome import Rule, Verdict, cannot_tell, fails, passes
from panels.rules.edition import Edition

CLOSE = 0.005  # of the marked value: what the digits of a setting cannot show


def tightened(_plate: PanelPlate, record: Record, _edition: Edition) -> Verdict:
    if not record.torques:
        return cannot_tell("any torque reading of a terminal with a marked value")
    off = [
        f"{one.terminal}: {one.value:g} lb-in, marked {one.marked_value:g}"
        for one in record.torques
        if one.marked_value is not None
        and abs(one.value - one.marked_value) > CLOSE * one.marked_value
    ]
    if off:
        return fails(f"Not the marked value: {'; '.join(sorted(off))}.")
    unmarked = sorted(one.terminal for one in record.torques if one.marked_value is None)
    if unmarked:
        return cannot_tell(f"the value marked for {', '.join(unmarked)}")
    without = sorted(one.terminal for one in record.torques if not one.instrument.strip())
    if without:
        return cannot_tell(f"the tool used for {', '.join(without)}")
    count = len(record.torques)
    return passes(
        f"{count} reading(s), each at its marked value.",
        advice="Terminals without a reading are not judged.",
    )


RULES: tuple[Rule[PanelPlate], ...] = (
    Rule(key="torq", id="TORQ", title="Terminals tightened to their marked value",
         about=subjects.readings, judge=tightened),
)  # fmt: skip
