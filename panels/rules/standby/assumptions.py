"""What is assumed where nothing is recorded: habits of use, derating, starting currents.

Every figure here can be overridden in the description; none of them is a value of the code.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from panels.rules.sourced import Mark, Sourced
from panels.rules.working import Line, line

OWN = "our own assumption, no source"
PRACTICE = "common practice, no source"


@dataclass(frozen=True, kw_only=True)
class Assumed(Sourced[float]):
    """A figure that no code gives; where it is from memory its maker's data decide."""

    @property
    def confirm(self) -> str:
        if not self.mark.unread:
            return ""
        return f"{self.cite}: {self.mark.label}; the data of the generator's maker decide."


DERATING = "derating rule of generator makers"
PER_1000_FT = Assumed(value=3.5, cite=DERATING, mark=Mark.MEMORY)
PER_10_F = Assumed(value=1.0, cite=DERATING, mark=Mark.MEMORY)
RATED_ALTITUDE_FT = 0.0
RATED_TEMPERATURE_F = 77.0

LOCKED_ROTOR = 6.0  # times the running current: common practice, no source
POWER_FACTOR = 0.8  # of a generator whose plate does not say: common practice, no source
EFFICIENCY, ROUND_TRIP = 0.95, 0.90  # of storage: our own assumption, no source
GENERAL_WATTS = 180.0  # one lighting or receptacle circuit at its busiest: our own assumption


def stated(value: float | None, assumed: Assumed) -> Assumed:
    """What was stated instead of what is assumed."""
    if value is None:
        return assumed
    return replace(assumed, value=value, cite="as stated", mark=Mark.READ, note="")


def own(key: str, label: str, value: Any, **said: Any) -> Line:
    """A line that stands on an assumption of ours, and says so."""
    note = " ".join(filter(None, [said.pop("note", ""), OWN[0].upper() + OWN[1:] + "."]))
    return line(key, label, value, note=note, **said)


def _day(default: float, **hours: float) -> tuple[float, ...]:
    """24 hours at `default`, but for the named ones: ``h06_09=0.3`` is six up to nine o'clock."""
    day = [default] * 24
    for name, value in hours.items():
        first, last = name[1:].split("_")
        day[int(first) : int(last)] = [value] * (int(last) - int(first))
    return tuple(day)


EVEN = "even"
# The mean draw in each hour as a part of the nameplate, by what the load is. OWN.
DAYS: dict[str, tuple[float, ...]] = {
    EVEN: _day(1.0),
    "general": _day(0.15, h06_09=0.5, h09_17=0.25, h17_22=1.0, h22_24=0.5),
    "range": _day(0.0, h06_08=0.05, h11_13=0.05, h17_18=0.10, h18_19=0.15, h19_20=0.05),
    "oven": _day(0.0, h11_12=0.03, h17_18=0.10, h18_19=0.12),
    "cooktop": _day(0.0, h06_08=0.05, h11_13=0.05, h17_19=0.12),
    "dryer": _day(0.0, h09_11=0.08, h18_21=0.10),
    "water_heater": _day(0.03, h06_09=0.25, h09_17=0.06, h17_22=0.15),
    "appliance": _day(0.05, h07_09=0.15, h17_21=0.20),
    "motor": _day(0.05, h06_09=0.20, h17_21=0.20),
    "heating": _day(0.45, h05_08=0.60, h17_22=0.50),
    "thermal_storage": _day(0.0, h00_06=0.80, h22_24=0.80),
    "cooling": _day(0.20, h12_15=0.50, h15_19=0.65, h19_22=0.45),
    "heat_pump": _day(0.45, h05_08=0.60, h17_22=0.50),
    "supplement": _day(0.05, h05_08=0.15),
    "vehicle": _day(0.0, h00_05=0.40, h22_24=0.40),
    "other": _day(0.20, h17_22=0.40),
}
WINTER = (1.0, 0.9, 0.7, 0.4, 0.1, 0.0, 0.0, 0.0, 0.05, 0.3, 0.6, 0.9)
SUMMER = (0.0, 0.0, 0.0, 0.05, 0.3, 0.7, 1.0, 0.9, 0.5, 0.1, 0.0, 0.0)
# By month, for what follows the weather. OWN.
SEASONS: dict[str, tuple[float, ...]] = {
    "heating": WINTER,
    "thermal_storage": WINTER,
    "supplement": WINTER,
    "cooling": SUMMER,
    "heat_pump": tuple(map(max, WINTER, SUMMER)),
}
# The output of a clear day in each hour as a part of the array's peak. OWN.
SUN = (0, 0, 0, 0, 0, 0, 0.02, 0.12, 0.3, 0.47, 0.6, 0.68, 0.7, 0.68, 0.6, 0.47, 0.3, 0.12,
       0.02, 0, 0, 0, 0, 0)  # fmt: skip
