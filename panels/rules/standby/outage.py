"""An outage as it is described, and what comes of it at each stage of shedding."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from panels.rules.errors import BadDescription
from panels.rules.standby.loads import (
    QUARTERS,
    Load,
    clock,
    hardest_start,
    metered,
    stages,
    sunshine,
    typical,
)
from panels.rules.standby.plan import Plan, follow
from panels.rules.standby.simulate import GENERATOR, STORAGE, Array, Supply, Trace, run
from panels.rules.standby.sources import Solar

LONGEST = 168  # hours: a week


@dataclass(frozen=True, kw_only=True)
class Outage:
    """When it begins (the site's own clock), how long to look ahead, what carries what.

    `until` is the time of day to be reached, `shed` the shed order up to which everything is off
    from the start. At `let_go_at` of the charge, or where it cannot be carried, further stages
    are let go one by one (None: they stay).
    """

    start: dt.datetime
    hours: int
    until: dt.time
    loads: tuple[Load, ...]
    supply: Supply
    arrays: tuple[Solar, ...] = ()
    shed: int = 0
    let_go_at: float | None = None
    watts: tuple[float, ...] | None = None

    def __post_init__(self) -> None:
        storage, generator = self.supply.storage, self.supply.generator
        if not storage.usable and not generator.rating:
            told = "name storage or a generator: solar alone forms no supply to follow."
            raise BadDescription("storage", told)
        if not self.loads:
            raise BadDescription("loads", "is missing. List what is backed up.")
        if self.shed not in self.stages:
            known = ", ".join(map(str, self.stages))
            raise BadDescription("shed", f"{self.shed} is not in use. Choose one of {known}.")
        if self.watts is not None:
            self._check_metered(self.watts)

    def _check_metered(self, watts: tuple[float, ...]) -> None:
        if len(watts) < self.steps:
            told = f"must hold {self.steps} quarter-hours from the start; it holds {len(watts)}."
            raise BadDescription("metered", told)
        if any(load.share is None for load in self.loads):
            raise BadDescription("loads", "each needs its share of the metered total.")
        if sum(load.share or 0.0 for load in self.loads) > 1 + 1e-6:
            raise BadDescription("loads", "the shares of the metered total exceed 1.")

    @property
    def steps(self) -> int:
        return self.hours * QUARTERS

    @property
    def stages(self) -> tuple[int, ...]:
        return stages(self.loads)

    @cached_property
    def demand(self) -> Array:
        """Mean W in each quarter-hour (rows), at each stage (columns)."""
        if self.watts is not None:
            return metered(self.loads, self.watts[: self.steps], self.stages)
        return typical(self.loads, clock(self.start, self.steps), self.stages)

    @cached_property
    def sun(self) -> Array:
        """Only storage forms a supply that solar can follow."""
        if not self.supply.storage.usable:
            return np.zeros((self.steps, 1))
        return sunshine(self.arrays, clock(self.start, self.steps))

    @cached_property
    def by_stage(self) -> Trace:
        """Every stage held from the start to the end, one lane each."""
        return run(self.demand, self.sun, self.supply)

    @cached_property
    def plan(self) -> Plan:
        """What happens at the stage chosen, further stages let go as asked."""
        return follow(
            self.demand, self.sun, self.supply, stages=self.stages, shed=self.shed,
            let_go_at=self.let_go_at,
        )  # fmt: skip

    @property
    def to_until(self) -> float:
        """Hours from the start until the time of day to be reached."""
        target = dt.datetime.combine(self.start.date(), self.until)
        if target <= self.start:
            target += dt.timedelta(days=1)
        return (target - self.start).total_seconds() / 3600

    def lasts(self, stage: int) -> float:
        return float(self.by_stage.lasts[self.stages.index(stage)])

    def on_at(self, stage: int) -> list[Load]:
        return [load for load in self.loads if load.stays_on(stage)]

    def in_season(self, stage: int) -> list[Load]:
        """What is on and used at all at this time of the year."""
        months = {month for month, _hour in clock(self.start, self.steps)}
        return [load for load in self.on_at(stage) if load.runs_in(months)]

    def connected(self, stage: int) -> float:
        """W if all of it runs at one time."""
        return sum(load.running for load in self.in_season(stage))

    def let_go(self, stage: int) -> list[Load]:
        return [load for load in self.loads if not load.stays_on(stage)]

    def peak(self, stage: int) -> float:
        """The highest quarter-hour (W) of what is on."""
        return float(self.demand[:, self.stages.index(stage)].max())

    def starting(self, stage: int) -> tuple[float, Load | None]:
        """VA when the hardest starter starts on top of the highest quarter-hour."""
        on = self.in_season(stage)
        motor, real = hardest_start(on), self.connected(stage)
        factor = sum(load.apparent for load in on) / real if real else 1.0
        return self.peak(stage) * factor + (motor.in_rush if motor else 0.0), motor

    @property
    def surge_limit(self) -> float | None:
        """The least VA any source that carries can surge to, each taken alone; None: unknown."""
        limits = []
        for source in self.supply.order:
            unit = self.supply.storage if source == STORAGE else self.supply.generator
            if source == GENERATOR and unit.surge is None:
                limits.append(self.supply.generator.apparent)
            elif unit.surge is not None:
                limits.append(unit.surge)
        return min(limits, default=None) if len(limits) == len(self.supply.order) else None

    @property
    def power_limit(self) -> float:
        """W that all sources give together without a pause."""
        return self.supply.storage.inverter + self.supply.generator.watts

    def first_that_reaches(self, hours: float) -> int | None:
        """The least shedding that lasts that long; None where no stage does."""
        return next((one for one in self.stages if self.lasts(one) >= hours - 1e-9), None)

    @property
    def at_once(self) -> int | None:
        """The least shedding that carries the first quarter-hour, starts included."""
        return next((one for one in self.stages if self._holds(one)), None)

    def _holds(self, stage: int) -> bool:
        limit = self.surge_limit
        surge = limit is None or self.starting(stage)[0] <= limit
        return surge and self.lasts(stage) > 0
