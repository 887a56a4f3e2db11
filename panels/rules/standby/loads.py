"""What do the backed-up circuits draw, quarter-hour by quarter-hour, and what when one starts?"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from panels.rules.errors import BadDescription
from panels.rules.standby.assumptions import DAYS, EVEN, LOCKED_ROTOR, SEASONS
from panels.rules.standby.simulate import STEP, Array
from panels.rules.standby.sources import Solar

A_DAY = 24
PLAIN_YEAR = 2025  # of 365 days
QUARTERS = round(1 / STEP)


@dataclass(frozen=True, kw_only=True)
class Load:
    """One load that is backed up: W and VA while it runs, and the day's habit it follows.

    `shed_order` 1 is switched off first; None stays on to the end. `starting` is the VA in which
    a motor starts. `share` is its part of the metered total, where the meter gives the profile.
    """

    name: str
    running: float
    apparent: float
    habit: str = EVEN
    circuit: str = ""
    shed_order: int | None = None
    motor: bool = False
    starting: float | None = None
    share: float | None = None

    def __post_init__(self) -> None:
        if self.habit not in DAYS:
            told = f"{self.habit!r} is not known. Choose one of {', '.join(DAYS)}."
            raise BadDescription("habit", told)

    def stays_on(self, shed: int) -> bool:
        """Whether it is on when everything up to this shed order is off."""
        return self.shed_order is None or self.shed_order > shed

    @property
    def in_rush(self) -> float:
        """The VA of its start: as recorded, else six times what it runs at."""
        if self.starting is not None:
            return self.starting
        return self.apparent * LOCKED_ROTOR if self.motor else 0.0

    def runs_in(self, months: Iterable[int]) -> bool:
        """Whether it is used at all in one of these months."""
        season = SEASONS.get(self.habit)
        return season is None or any(season[month - 1] > 0 for month in months)

    def at(self, month: int, hour: int) -> float:
        """Its mean W in that hour, by habit and season."""
        season = SEASONS.get(self.habit)
        return self.running * DAYS[self.habit][hour] * (season[month - 1] if season else 1.0)


def mean_draw(running: float, habit: str, month: int) -> float:
    """The mean W over a day of that month, by habit and season."""
    season = SEASONS.get(habit)
    return running * sum(DAYS[habit]) / A_DAY * (season[month - 1] if season else 1.0)


def stages(loads: Sequence[Load]) -> tuple[int, ...]:
    """Nothing off (0), then everything up to each shed order in use that leaves something on."""
    orders = sorted({load.shed_order for load in loads if load.shed_order})
    return (0, *(each for each in orders if any(load.stays_on(each) for load in loads)))


def clock(start: dt.datetime, steps: int) -> list[tuple[int, int]]:
    """The month and the hour in which each quarter-hour begins."""
    moments = (start + dt.timedelta(hours=STEP * step) for step in range(steps))
    return [(moment.month, moment.hour) for moment in moments]


def typical(
    loads: Sequence[Load], moments: Sequence[tuple[int, int]], shed: Sequence[int]
) -> Array:
    """Mean W of what is on in each step (rows), at each stage of shedding (columns)."""
    habits: dict[tuple[int, int], list[float]] = {}
    for moment in dict.fromkeys(moments):
        drawn = [load.at(*moment) for load in loads]
        habits[moment] = [_on(loads, drawn, stage) for stage in shed]
    return np.array([habits[moment] for moment in moments], dtype=float)


def metered(loads: Sequence[Load], watts: Sequence[float], shed: Sequence[int]) -> Array:
    """The metered total of each step, times the stated parts of what is on at each stage."""
    parts = [_on(loads, [load.share or 0.0 for load in loads], stage) for stage in shed]
    return np.outer(np.array(watts, dtype=float), np.array(parts))


def _on(loads: Sequence[Load], figures: Sequence[float], stage: int) -> float:
    """The sum over what is on; summed exactly, so that shedding more can never add a hair."""
    pairs = zip(loads, figures, strict=True)
    return math.fsum(figure for load, figure in pairs if load.stays_on(stage))


def window(year: Sequence[float], start: dt.datetime, hours: int) -> list[float]:
    """The hours from the start on, out of a year of quarter-hours from 1 January; none below
    zero. The year goes round at its end; the 29th of February is taken as the 28th."""
    day = 28 if (start.month, start.day) == (2, 29) else start.day
    passed = start.replace(year=PLAIN_YEAR, day=day) - dt.datetime(PLAIN_YEAR, 1, 1)  # noqa: DTZ001
    first = int(passed.total_seconds() / 3600 * QUARTERS)
    steps = range(first, first + hours * QUARTERS)
    return [max(round(year[step % len(year)], 1), 0.0) for step in steps]


def sunshine(arrays: Sequence[Solar], moments: Sequence[tuple[int, int]]) -> Array:
    """W of all arrays in each step, one column."""
    hours = [math.fsum(one.peak * one.hourly[hour] for one in arrays) for hour in range(A_DAY)]
    return np.array([[hours[hour]] for _month, hour in moments], dtype=float)


def hardest_start(loads: Iterable[Load]) -> Load | None:
    """The load with the largest starting VA; None where nothing starts hard."""
    starting = [load for load in loads if load.in_rush > 0]
    return max(starting, key=lambda load: (load.in_rush, load.name), default=None)
