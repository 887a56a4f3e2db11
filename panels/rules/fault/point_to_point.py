"""Which fault current does the point-to-point method give, whose impedances are added as numbers?

f = 1.732 L I / (C n E) on three phases, 2 L I / (C n E) between two lines or to neutral;
M = 1 / (1 + f); the current at the far end is M times that at the near one. C is one
over the ohms of a foot. As magnitudes are added, it is not always on the safe side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from panels.rules.edition import Edition
from panels.rules.fault.loops import Choices, Loops
from panels.rules.feeders.legs import line_volts, neutral_volts
from panels.rules.feeders.site import Run, Transformer
from panels.rules.layout import System
from panels.rules.wire.lookup import impedance

CENTRE_TAP = 1.5


@dataclass(frozen=True, kw_only=True)
class Points:
    """Amperes at a place: three-phase or between two lines, and to neutral.

    `tap` is what the latter is still to be multiplied by: the 1.5 of a centre tap where it is
    taken after M.
    """

    system: System
    lines_a: float
    neutral_a: float | None
    tap: float = 1.0

    @property
    def to_neutral(self) -> float | None:
        return None if self.neutral_a is None else self.neutral_a * self.tap


def start(loops: Loops, choices: Choices) -> Points:
    """The same start as the complex sum, with the 1.5 of a centre tap where it is chosen."""
    lines = loops.three_phase or loops.line_to_line
    if loops.system is not System.SPLIT_240:
        return Points(system=loops.system, lines_a=lines, neutral_a=loops.to_neutral)
    return _tapped(loops.system, lines, choices)


def _tapped(system: System, lines: float, choices: Choices) -> Points:
    before = choices.convention == "in_f"
    return Points(
        system=system,
        lines_a=lines,
        neutral_a=lines * CENTRE_TAP if before else lines,
        tap=1.0 if before else CENTRE_TAP,
    )


def along(before: Points, run: Run, edition: Edition) -> Points:
    """At the far end of a run; where it is not recorded, as at the near end."""
    if run.missing("size", "metal", "raceway", "length_ft"):
        return before
    length, volts = run.length_ft or 0, line_volts(before.system)
    line_, neutral_ = (length / run.sets / c for c in constants(run, edition))
    wires = math.sqrt(3) if len(before.system.legs) == 3 else 2
    neutral = before.neutral_a
    if neutral is not None:
        f = (line_ + neutral_) * neutral / neutral_volts(before.system)
        neutral = neutral / (1 + f)
    f_lines = wires * line_ * before.lines_a / volts
    return replace(before, lines_a=before.lines_a / (1 + f_lines), neutral_a=neutral)


def constants(run: Run, edition: Edition) -> tuple[float, float]:
    """C of a line and of the neutral: from a published example where it gives one, else from
    Table 9. With a neutral as large as a line, f to neutral has the usual factor of 2."""
    if run.c is not None:
        return run.c, run.c
    if run.size is None or run.metal is None or run.raceway is None:
        raise ValueError("a run that is not recorded has no constant")
    line_, neutral = (
        1000 / abs(complex(*impedance(size, run.metal, run.raceway, edition)))
        for size in (run.size, run.neutral or run.size)
    )
    return line_, neutral


def through(before: Points, transformer: Transformer, system: System, choices: Choices) -> Points:
    """Behind a transformer: f = 1.732 I V %Z / (100 VA), or without the 1.732; by the voltages."""
    root = math.sqrt(3) if len(system.legs) == 3 else 1
    near, far = line_volts(before.system), line_volts(system)
    percent = transformer.percent_z * choices.z_factor
    f = root * before.lines_a * near * percent / (100 * transformer.kva * 1000)
    lines = before.lines_a / (1 + f) * near / far
    if system is System.SPLIT_240:
        return _tapped(system, lines, choices)
    neutral = None if system is System.DELTA_240 else lines
    return Points(system=system, lines_a=lines, neutral_a=neutral)
