"""Through how many ohms does a fault current flow, from the source to a place?

A fault between two lines closes through both; one to neutral through a line and the neutral. On
three phases half of the first is the impedance of one phase, which limits a three-phase fault.
Impedances are complex and are added as such. An X/R that is not recorded is tried as pure
resistance and as pure reactance: the smaller sum is never above the true one.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from panels.rules.edition import Edition
from panels.rules.fault.practice import HALVES, TOLERANCE
from panels.rules.feeders.legs import line_volts, neutral_volts
from panels.rules.feeders.site import Entrance, Run, Transformer
from panels.rules.layout import System
from panels.rules.wire.lookup import impedance

RIGHT_ANGLE = math.pi / 2


@dataclass(frozen=True, kw_only=True)
class Choices:
    """What whoever asks may choose: see `panels.rules.fault.practice`."""

    tolerance: bool = False
    half: str = "third"
    convention: str = "in_f"
    motor_a: float = 0.0

    @property
    def z_factor(self) -> float:
        return TOLERANCE.value if self.tolerance else 1.0


@dataclass(frozen=True, kw_only=True)
class Loops:
    """Pairs of ohms, between two lines and to neutral (None: not covered), one pair for each
    angle tried. `open_` names what is not recorded on the way and was counted as no ohms."""

    system: System
    pairs: tuple[tuple[complex, complex | None], ...]
    open_: tuple[str, ...] = ()

    @property
    def line_to_line(self) -> float:
        """Amperes of a bolted fault between two lines."""
        return line_volts(self.system) / min(abs(between) for between, _ in self.pairs)

    @property
    def three_phase(self) -> float | None:
        """Amperes of a bolted fault of all three lines; None where there are no three."""
        return self.line_to_line * 2 / math.sqrt(3) if len(self.system.legs) == 3 else None

    @property
    def to_neutral(self) -> float | None:
        """Amperes of a bolted fault from a line to neutral; None where that is not covered."""
        ohms = [abs(neutral) for _, neutral in self.pairs if neutral is not None]
        return neutral_volts(self.system) / min(ohms) if ohms else None

    @property
    def x_over_r(self) -> float:
        """Of the loop between two lines that lets most through."""
        least = min((between for between, _ in self.pairs), key=abs)
        return least.imag / least.real if least.real > 0 else math.inf


def _turned(ohms: float, x_over_r: float | None) -> tuple[complex, ...]:
    """The ohms at their angle, or at both ends where X/R is not recorded."""
    angles = (0.0, RIGHT_ANGLE) if x_over_r is None else (math.atan(x_over_r),)
    return tuple(cmath.rect(ohms, angle) for angle in angles)


def source(entrance: Entrance, choices: Choices) -> Loops | None:
    """What stands before the service conductors: the utility's figure, else its transformer
    behind an unlimited supply; None where neither is recorded."""
    if entrance.available_a:
        return _stated(entrance)
    if entrance.transformer is None:
        return None
    nothing = Loops(system=entrance.system, pairs=((0j, 0j),))
    return through(nothing, entrance.transformer, entrance.system, choices)


def _stated(entrance: Entrance) -> Loops:
    """By the figure: three-phase, or between the lines of a single-phase service."""
    system, amperes = entrance.system, entrance.available_a or math.inf
    between = line_volts(system) / amperes
    if len(system.legs) == 3:
        between *= 2 / math.sqrt(3)
    neutral = _neutral_of(system, between)
    if entrance.available_to_neutral_a:
        neutral = neutral_volts(system) / entrance.available_to_neutral_a
    turned = _turned(between, entrance.x_over_r)
    pairs = tuple(
        (one, None if neutral is None else one / between * neutral) for one in turned
    )  # fmt: skip
    return Loops(system=system, pairs=pairs, open_=_unsaid(entrance.x_over_r, "that figure"))


def _neutral_of(system: System, between: float) -> float | None:
    """The loop to neutral where only that between lines is stated: a third of it behind a centre
    tap, half of it on a wye (zero-sequence as positive-sequence); none is covered on a high leg."""
    parts = {System.SPLIT_240: 1 / 3, System.DELTA_240: None}
    part = parts.get(system, 1 / 2)
    return None if part is None else between * part


def _unsaid(x_over_r: float | None, of: str) -> tuple[str, ...]:
    return (f"X/R of {of}",) if x_over_r is None else ()


def through(before: Loops, transformer: Transformer, system: System, choices: Choices) -> Loops:
    """Behind a transformer: what stands before it by the square of the voltages, and its own.

    Three phases: delta to wye, zero-sequence as positive-sequence. A single-phase one has a
    centre tap on 120/240 V; half its winding counts by the convention chosen.
    """
    volts = line_volts(system)
    ratio = (volts / line_volts(before.system)) ** 2
    phase_ohms = volts**2 / (transformer.kva * 1000) * transformer.percent_z / 100
    turned = _turned(phase_ohms * choices.z_factor, transformer.x_over_r)
    shape = _centre_tap if system is System.SPLIT_240 else _wye
    covered = system is not System.DELTA_240
    both = (shape(between * ratio, own, choices) for between, _ in before.pairs for own in turned)
    pairs = tuple((between, neutral if covered else None) for between, neutral in both)
    open_ = (*before.open_, *_unsaid(transformer.x_over_r, "the transformer"))
    return Loops(system=system, pairs=pairs, open_=open_)


def _centre_tap(between: complex, own: complex, choices: Choices) -> tuple[complex, complex]:
    half = HALVES[choices.half].value
    return between + own, between / 4 + complex(own.real * half.r, own.imag * half.x)


def _wye(between: complex, own: complex, _choices: Choices) -> tuple[complex, complex]:
    return between + 2 * own, between / 3 + own


def along(before: Loops, run: Run, edition: Edition, of: str) -> Loops:
    """At the far end of conductors, by Chapter 9 Table 9. What is not recorded of them counts as
    no ohms, so the current is then an upper bound; a neutral not recorded is as large as a line."""
    if missing := run.missing("size", "metal", "raceway", "length_ft"):
        open_ = (*before.open_, *(f"{word} of {of}" for word in missing))
        return replace(before, open_=open_)
    line_, neutral = ohms(run, edition)
    pairs = tuple(
        (between + 2 * line_, None if to_neutral is None else to_neutral + line_ + neutral)
        for between, to_neutral in before.pairs
    )
    return replace(before, pairs=pairs)


def ohms(run: Run, edition: Edition) -> tuple[complex, complex]:
    """Of a line and of the neutral of this run, all sets together. Raises `NotCovered`."""
    if run.size is None or run.metal is None or run.raceway is None or run.length_ft is None:
        raise ValueError("a run that is not recorded has no ohms")
    scale = run.length_ft / 1000 / run.sets
    sizes = (run.size, run.neutral or run.size)
    line_, neutral = (
        complex(*impedance(size, run.metal, run.raceway, edition)) * scale for size in sizes
    )
    return line_, neutral


def largest(currents: Iterable[float | None]) -> float:
    return max(current for current in currents if current is not None)
