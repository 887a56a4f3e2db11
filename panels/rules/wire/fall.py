"""How far does the voltage fall along a conductor?

Four answers to one question, so that they can be compared: the complex solution, the effective
impedance of Chapter 9 Table 9 note 2, the K form and the direct-current form of the trade.
All ohms are of one conductor; lengths are one way, in feet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from panels.rules.errors import NotCovered

KILOFOOT = 1000.0
CITE = "Chapter 9 Table 9"


@dataclass(frozen=True, kw_only=True)
class Path:
    """A load at the end of a conductor: amperes of all sets together, power factor lagging."""

    amperes: float
    power_factor: float
    r: float  # ohms per 1000 ft
    x: float
    feet: float
    sets: int = 1
    phases: int = 1

    @property
    def ways(self) -> float:
        """Out and back on one phase, the root of three between phases of three."""
        return math.sqrt(3) if self.phases == 3 else 2.0

    @property
    def volts_per_ohm(self) -> float:
        """What an ohm per 1000 ft costs at this current and length."""
        return self.ways * self.amperes / self.sets * self.feet / KILOFOOT

    @property
    def sine(self) -> float:
        return math.sqrt(max(0.0, 1 - self.power_factor**2))


def worst_power_factor(r: float, x: float) -> float:
    """The lagging power factor at which this impedance drops most: that of the impedance."""
    return r / math.hypot(r, x)


def effective(path: Path) -> tuple[float, float]:
    """Ze = R cos + X sin in ohms per 1000 ft, and the volts it drops (Table 9, note 2)."""
    ze = path.r * path.power_factor + path.x * path.sine
    return ze, ze * path.volts_per_ohm


def exact(path: Path, sending: float) -> tuple[float, float]:
    """Volts dropped and volts left at the load, by complex numbers.

    The sending voltage is held, the current has its angle against the receiving voltage Vr:
    Vs^2 = (Vr + I (R cos + X sin))^2 + (I (X cos - R sin))^2. Raises `NotCovered` where no
    voltage at the load satisfies it.
    """
    along = (path.r * path.power_factor + path.x * path.sine) * path.volts_per_ohm
    across = (path.x * path.power_factor - path.r * path.sine) * path.volts_per_ohm
    left = math.sqrt(max(0.0, sending**2 - across**2)) - along
    if not left > 0:
        raise NotCovered(
            f"{sending:g} V cannot drive {path.amperes:g} A through {path.feet:g} ft of this"
            " conductor; the whole voltage is lost on the way",
            cite=CITE,
        )
    return sending - left, left


def by_k(path: Path, k: float, circular_mils: int) -> float:
    """2 K I L / CM, or root three times K I L / CM; volts."""
    return path.ways * k * path.amperes / path.sets * path.feet / circular_mils


def by_resistance(path: Path, ohms: float) -> float:
    """2 R I L / 1000 with the direct-current resistance in ohms per 1000 ft; volts."""
    return ohms * path.volts_per_ohm
