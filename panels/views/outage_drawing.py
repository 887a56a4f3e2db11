"""The picture of an outage: who carries the load, what is left, when a stage goes off."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from django.utils import formats
from django.utils.translation import gettext as _

from panels.rules.standby.loads import QUARTERS
from panels.rules.standby.outage import Outage
from panels.rules.standby.simulate import Array, Flags

WIDTH, LEFT, RIGHT = 720.0, 44.0, 708.0
TOP, FLOOR = 34.0, 190.0
LEVEL_TOP, LEVEL_FLOOR = 226.0, 296.0
STEPS = (1, 1.5, 2, 2.5, 3, 4, 5, 10)
APART = 42.0  # words nearer than this would run into each other


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A word at a place along an axis."""

    at: float
    word: str
    strong: bool = False


@dataclass(frozen=True, kw_only=True)
class OutageDrawing:
    """Paths in the drawing's own units; an empty one is not drawn."""

    sun: str
    storage: str
    generator: str
    load: str
    whole: str
    sunshine: str
    charge: str
    fuel: str
    hours: list[Mark]
    powers: list[Mark]
    moments: list[Mark]
    dark: float | None
    until: float | None
    has_level: bool
    width: float = WIDTH
    left: float = LEFT
    right: float = RIGHT
    top: float = TOP
    floor: float = FLOOR
    level_top: float = LEVEL_TOP
    level_floor: float = LEVEL_FLOOR

    @property
    def bottom(self) -> float:
        return self.level_floor if self.has_level else self.floor

    @property
    def height(self) -> float:
        return self.bottom + 28

    @property
    def dark_is_late(self) -> bool:
        """The word then stands before the line."""
        return self.dark is not None and self.right - self.dark < APART

    @property
    def dark_height(self) -> float:
        return self.bottom - self.top

    @property
    def dark_width(self) -> float:
        return 0.0 if self.dark is None else self.right - self.dark


def drawing(outage: Outage) -> OutageDrawing:
    """Power above, what is left of charge and fuel below, over the whole time looked at."""
    trace, plan = outage.plan.trace, outage.plan
    on = trace.hours[:, 0] > 0
    used = np.minimum(trace.sun, trace.load)[:, 0]
    storage, generator = trace.storage[:, 0], trace.generator[:, 0]
    sunny = np.broadcast_to(outage.sun, (outage.steps, 1))[:, 0]
    whole = outage.demand[:, 0]
    most = _round_up(max(float(whole.max()), float(sunny.max()), 1.0))
    plot = _Plot(steps=outage.steps, most=most, top=TOP, floor=FLOOR)
    ends = plan.lasts < outage.hours - 1e-9
    return OutageDrawing(
        sun=plot.area(np.zeros_like(used), used, on),
        storage=plot.area(used, used + storage, on),
        generator=plot.area(used + storage, used + storage + generator, on),
        load=plot.line(np.where(on, trace.load[:, 0], 0.0), on),
        whole=plot.line(whole, whole >= 0) if any(plan.stage) or ends else "",
        sunshine=plot.line(sunny, sunny >= 0) if outage.arrays and sunny.any() else "",
        charge=_charge(outage, on),
        fuel=_fuel(outage, on),
        hours=list(_hours(outage)),
        powers=list(_powers(plot)),
        moments=list(_moments(outage)),
        dark=_across(plan.lasts, outage.hours) if ends else None,
        until=_across(outage.to_until, outage.hours) if outage.to_until < outage.hours else None,
        has_level=bool(outage.supply.storage.usable) or outage.supply.generator.fuel is not None,
    )


@dataclass(frozen=True, kw_only=True)
class _Plot:
    """One pair of axes: steps across, a figure up."""

    steps: int
    most: float
    top: float
    floor: float

    def x(self, step: float) -> float:
        return round(LEFT + (RIGHT - LEFT) * step / self.steps, 1)

    def y(self, figure: float) -> float:
        return round(self.floor - (self.floor - self.top) * min(figure / self.most, 1.0), 1)

    def line(self, figures: Array, on: Flags) -> str:
        """Stairs from the first step to the last that is on."""
        steps = int(on.sum())
        if not steps:
            return ""
        return f"M{self.x(0)} {self.y(figures[0])}" + self._stairs(figures[:steps])

    def area(self, low: Array, high: Array, on: Flags) -> str:
        """What lies between two stairs."""
        steps = int(on.sum())
        if not steps or not (high[:steps] - low[:steps] > 0).any():
            return ""
        back = "".join(f"V{self.y(low[step])}H{self.x(step)}" for step in reversed(range(steps)))
        up = f"M{self.x(0)} {self.y(high[0])}"
        return f"{up}{self._stairs(high[:steps])}{back}Z"

    def _stairs(self, figures: Array) -> str:
        parts, last = [], None
        for step, figure in enumerate(figures):
            y = self.y(float(figure))
            if y != last:
                parts.append(f"H{self.x(step)}V{y}")
            last = y
        return "".join(parts) + f"H{self.x(len(figures))}"


def _charge(outage: Outage, on: Flags) -> str:
    usable = outage.supply.storage.usable
    if not usable or not on.any():
        return ""
    plot = _Plot(steps=outage.steps, most=1.0, top=LEVEL_TOP, floor=LEVEL_FLOOR)
    levels = [outage.supply.charge, *outage.plan.trace.charge[on, 0]]
    return _slope(plot, [level / usable for level in levels], outage) + f"V{LEVEL_FLOOR}H{LEFT}Z"


def _fuel(outage: Outage, on: Flags) -> str:
    whole = outage.supply.generator.fuel
    if not whole or not on.any():
        return ""
    plot = _Plot(steps=outage.steps, most=1.0, top=LEVEL_TOP, floor=LEVEL_FLOOR)
    return _slope(plot, [1.0, *(outage.plan.trace.fuel[on, 0] / whole)], outage)


def _slope(plot: _Plot, parts: Sequence[float], outage: Outage) -> str:
    """Straight between the ends of the steps; the last one ends where it goes dark."""
    ends = [*range(len(parts) - 1), outage.plan.lasts * QUARTERS]
    points = (f"{plot.x(end)} {plot.y(part)}" for end, part in zip(ends, parts, strict=True))
    return "M" + "L".join(points)


def _across(hours: float, of: int) -> float:
    return round(LEFT + (RIGHT - LEFT) * hours / of, 1)


def _hours(outage: Outage) -> Iterator[Mark]:
    """A mark every few hours of the clock; at midnight the day."""
    every = next((one for one in (3, 6, 12) if outage.hours / one <= 12), 24)
    first = outage.start.replace(minute=0, second=0)
    for hour in range(outage.hours + 1):
        moment = first + dt.timedelta(hours=hour)
        passed = (moment - outage.start).total_seconds() / 3600
        if moment.hour % every or not 0 <= passed <= outage.hours - every / 4:
            continue
        midnight = moment.hour == 0
        word = formats.date_format(moment, "D j") if midnight else _clock(moment)
        yield Mark(at=_across(passed, outage.hours), word=word, strong=midnight)


def _clock(moment: dt.datetime) -> str:
    return formats.time_format(moment.time())


def _powers(plot: _Plot) -> Iterator[Mark]:
    for part in range(5):
        watts = plot.most * part / 4
        yield Mark(at=plot.y(watts), word=f"{watts / 1000:g}")


def _moments(outage: Outage) -> Iterator[Mark]:
    """A line for each stage let go; of those close together the last has the word for all."""
    told: list[int] = []
    moments = outage.plan.moments
    for place, moment in enumerate(moments):
        at = _across(moment.step / QUARTERS, outage.hours)
        told.append(moment.stage)
        following = moments[place + 1 : place + 2]
        if following and _across(following[0].step / QUARTERS, outage.hours) - at < APART:
            yield Mark(at=at, word="")
            continue
        stages = f"{told[0]}–{told[-1]}" if len(told) > 1 else f"{told[0]}"
        yield Mark(at=at, word=_("%(stages)s off") % {"stages": stages})
        told = []


def _round_up(watts: float) -> float:
    """The next figure that four marks divide into round steps."""
    scale = 10 ** math.floor(math.log10(watts / 4))
    return next(4 * one * scale for one in STEPS if 4 * one * scale >= watts - 1e-9)
