"""The same outage a second time, a minute at a step in plain arithmetic: to compare with."""

from __future__ import annotations

from collections.abc import Sequence

from panels.rules.standby.simulate import Supply

MINUTE = 1 / 60


def lasts(load: Sequence[float], sun: Sequence[float], supply: Supply) -> float:
    """Hours until the load of a quarter-hour can no longer be carried, counted in minutes."""
    charge, fuel, minutes = supply.charge, supply.fuel, 0
    for draw, sunny in zip(load, sun, strict=True):
        for _minute in range(15):
            after = one_minute(draw, sunny, charge, fuel, supply)
            if after is None:
                return minutes * MINUTE
            charge, fuel = after
            minutes += 1
    return minutes * MINUTE


def one_minute(
    draw: float, sunny: float, charge: float, fuel: float, supply: Supply
) -> tuple[float, float] | None:
    """Charge and fuel a minute later; None where the draw cannot be carried all through it."""
    battery, engine = supply.storage, supply.generator
    wanted = draw - sunny
    if wanted <= 0:
        taken = min(-wanted, battery.inverter) * MINUTE * battery.round_trip / battery.efficiency
        return min(charge + taken, battery.usable), fuel
    for source in supply.order:
        if source == "storage":
            given = min(wanted, battery.inverter, charge * battery.efficiency / MINUTE)
            charge -= given * MINUTE / battery.efficiency
        else:
            given = min(wanted, engine.watts)
            burnt = (engine.idle + engine.slope * given) * MINUTE if given > 1e-6 else 0.0
            if burnt > fuel:
                given, burnt = given * fuel / burnt, fuel
            fuel -= burnt
        wanted -= given
    return None if wanted > 1e-6 else (charge, fuel)
