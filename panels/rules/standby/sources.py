"""What can storage, a generator and solar give in an outage, and at what cost of charge or fuel?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from panels.rules.errors import BadDescription
from panels.rules.standby.assumptions import (
    PER_10_F,
    PER_1000_FT,
    POWER_FACTOR,
    RATED_ALTITUDE_FT,
    RATED_TEMPERATURE_F,
    Assumed,
)


@dataclass(frozen=True, kw_only=True)
class Storage:
    """Usable energy in Wh, inverter in W, surge in VA; `efficiency` from charge to output.

    `round_trip` is from input to output, so that of charging is the one over the other.
    """

    usable: float = 0.0
    inverter: float = 0.0
    surge: float | None = None
    efficiency: float = 1.0
    round_trip: float = 1.0
    at_start: float = 1.0
    assumed: bool = False  # the efficiencies were not stated

    def __post_init__(self) -> None:
        for name in ("efficiency", "round_trip", "at_start"):
            if not 0 <= getattr(self, name) <= 1:
                raise BadDescription(name, "must be from 0 to 1.")
        if not 0 < self.round_trip <= self.efficiency:
            raise BadDescription(
                "round_trip", "must be above 0 and not above the efficiency of discharging."
            )

    @property
    def charging(self) -> float:
        return self.round_trip / self.efficiency

    @property
    def deliverable(self) -> float:
        """Wh it gives from the charge it starts with."""
        return self.usable * self.at_start * self.efficiency


def together(units: Sequence[Storage]) -> Storage:
    """Several taken as one: sums, and means by energy. A surge unknown of one is unknown of all."""
    if len(units) < 2:
        return units[0] if units else Storage()
    energy = sum(unit.usable for unit in units)

    def mean(name: str) -> float:
        return math.fsum(getattr(unit, name) * unit.usable for unit in units) / energy

    surges = [unit.surge for unit in units]
    known = [surge for surge in surges if surge is not None]
    return Storage(
        usable=energy,
        inverter=sum(unit.inverter for unit in units),
        surge=sum(known) if len(known) == len(surges) else None,
        efficiency=mean("efficiency"),
        round_trip=mean("round_trip"),
        at_start=mean("at_start"),
        assumed=any(unit.assumed for unit in units),
    )


@dataclass(frozen=True, kw_only=True)
class Generator:
    """Nameplate in VA; fuel per hour at full and at half load, straight line between and beyond.

    `fuel` is what is on hand in the same unit; None is a supply that does not run out. Where the
    use at half load is not known, that at full load is taken at every load.
    """

    rating: float = 0.0
    power_factor: float = POWER_FACTOR
    surge: float | None = None
    altitude_ft: float = RATED_ALTITUDE_FT
    temperature_f: float = RATED_TEMPERATURE_F
    rated_altitude_ft: float = RATED_ALTITUDE_FT
    rated_temperature_f: float = RATED_TEMPERATURE_F
    per_1000_ft: Assumed = PER_1000_FT
    per_10_f: Assumed = PER_10_F
    full_per_h: float | None = None
    half_per_h: float | None = None
    fuel: float | None = None
    fuel_unit: str = ""

    def __post_init__(self) -> None:
        if not 0 < self.power_factor <= 1:
            raise BadDescription("power_factor", "must be above 0 and at most 1.")
        if self.fuel is not None and self.full_per_h is None:
            raise BadDescription("full_per_h", "is missing: what it burns at full load an hour.")
        full, half = self.full_per_h, self.half_per_h
        if full is not None and half is not None and not full / 2 <= half <= full:
            told = "must lie between half of the use at full load and all of it."
            raise BadDescription("half_per_h", told)
        if self.left <= 0:
            raise BadDescription("altitude", "nothing is left of the rating after derating.")

    @property
    def height_loss(self) -> float:
        """The part lost to thin air."""
        over = max(self.altitude_ft - self.rated_altitude_ft, 0.0)
        return over / 1000 * self.per_1000_ft.value / 100

    @property
    def heat_loss(self) -> float:
        """The part lost to warm air."""
        over = max(self.temperature_f - self.rated_temperature_f, 0.0)
        return over / 10 * self.per_10_f.value / 100

    @property
    def left(self) -> float:
        return 1 - self.height_loss - self.heat_loss

    @property
    def apparent(self) -> float:
        """VA after derating."""
        return self.rating * self.left

    @property
    def watts(self) -> float:
        return self.apparent * self.power_factor

    @property
    def slope(self) -> float:
        """Fuel per Wh."""
        if self.full_per_h is None or self.half_per_h is None or not self.rating:
            return 0.0
        return (self.full_per_h - self.half_per_h) / (self.rating * self.power_factor / 2)

    @property
    def idle(self) -> float:
        """Fuel per hour at no load."""
        if self.full_per_h is None:
            return 0.0
        return self.full_per_h - self.slope * self.rating * self.power_factor


@dataclass(frozen=True, kw_only=True)
class Solar:
    """Peak in W and the part of it in each hour of the day."""

    peak: float
    hourly: tuple[float, ...]
    assumed: bool = False  # the hours of the day were not stated

    def __post_init__(self) -> None:
        if len(self.hourly) != 24 or not all(0 <= part <= 1.5 for part in self.hourly):
            raise BadDescription("hourly", "must be 24 parts of the peak, each from 0 to 1.")
