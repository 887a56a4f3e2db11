"""Which current flows on each leg, when what hangs between which legs is known?

Loads of unlike legs are added as phasors, all at one power factor. On a single-phase system that
is plain addition; on three phases a load between two legs stands 30 degrees off both, so halving
its volt-amperes over the two would understate a single one by 13 %.
"""

from __future__ import annotations

import cmath
import itertools
import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from panels.rules.layout import System


def _at(volts: float, degrees: float) -> complex:
    return cmath.rect(volts, math.radians(degrees))


VOLTS: Mapping[System, Mapping[str, complex]] = {
    System.SPLIT_240: {"A": _at(120, 0), "B": _at(120, 180)},
    System.WYE_208_2LEG: {"A": _at(208 / math.sqrt(3), 0), "B": _at(208 / math.sqrt(3), -120)},
    System.WYE_208: {
        leg: _at(208 / math.sqrt(3), -120 * turn) for turn, leg in enumerate(("A", "B", "C"))
    },
    System.WYE_480: {
        leg: _at(480 / math.sqrt(3), -120 * turn) for turn, leg in enumerate(("A", "B", "C"))
    },
    # The neutral is the middle of A and C; B is the high leg (110.15, 408.3(E)).
    System.DELTA_240: {"A": _at(120, 0), "B": _at(120 * math.sqrt(3), 90), "C": _at(120, 180)},
}


@dataclass(frozen=True, kw_only=True)
class One:
    """A load that never runs together with the others of its group, on one or more leg sets."""

    legs: tuple[tuple[str, ...], ...]
    va: float
    continuous: bool


@dataclass(kw_only=True)
class Carried:
    """Volt-amperes by the legs they hang between: those that come and go, and the continuous.

    `either` are the groups of which one load runs at a time. `unknown` names what hangs there
    without a load on record: the rest is then a lower bound.
    """

    plain: dict[tuple[str, ...], float] = field(default_factory=lambda: defaultdict(float))
    continuous: dict[tuple[str, ...], float] = field(default_factory=lambda: defaultdict(float))
    either: dict[str, list[One]] = field(default_factory=lambda: defaultdict(list))
    unknown: list[str] = field(default_factory=list)

    def add(self, legs: Iterable[str], va: float, *, continuous: bool = False) -> None:
        side = self.continuous if continuous else self.plain
        side[tuple(sorted(legs))] += va

    def take(self, other: Carried, relabel: Mapping[str, str]) -> None:
        """All of `other`, whose legs are those of a feeder here."""

        def here(legs: Iterable[str]) -> tuple[str, ...]:
            return tuple(sorted(relabel[leg] for leg in legs))

        for mine, theirs in ((self.plain, other.plain), (self.continuous, other.continuous)):
            for legs, va in theirs.items():
                mine[here(legs)] += va
        for group, members in other.either.items():
            self.either[group] += [replace(one, legs=tuple(map(here, one.legs))) for one in members]
        self.unknown += other.unknown

    @property
    def va(self) -> float:
        """All that can run at once."""
        ones = [max(one.va for one in members) for members in self.either.values()]
        return math.fsum([*self.plain.values(), *self.continuous.values(), *ones])

    def amperes(
        self, system: System, *, plain: float = 1.0, continuous: float = 1.0
    ) -> dict[str, float]:
        """The current on each leg, with what is continuous (and what is not) so many times.

        Of a group each leg counts the member that loads it most, by magnitude: on three phases a
        little on the safe side.
        """
        total = dict.fromkeys(system.legs, 0j)
        for loads, factor in ((self.plain, plain), (self.continuous, continuous)):
            for legs, va in loads.items():
                for leg, current in _currents(legs, va * factor, VOLTS[system]):
                    total[leg] += current
        found = {leg: abs(current) for leg, current in total.items()}
        for members in self.either.values():
            each = [one_of(one, system, continuous if one.continuous else plain) for one in members]
            for leg in found:
                found[leg] += max(currents[leg] for currents in each)
        return found


def one_of(one: One, system: System, factor: float) -> dict[str, float]:
    """What one member of a group draws on each leg."""
    total = dict.fromkeys(system.legs, 0j)
    for legs in one.legs:
        for leg, current in _currents(legs, one.va * factor, VOLTS[system]):
            total[leg] += current
    return {leg: abs(current) for leg, current in total.items()}


def _currents(
    legs: tuple[str, ...], va: float, volts: Mapping[str, complex]
) -> Iterable[tuple[str, complex]]:
    """Currents into the legs: to neutral, between two, or a third between each two of three."""
    if len(legs) == 1:
        yield legs[0], va / volts[legs[0]].conjugate()
        return
    pairs = list(itertools.combinations(legs, 2))
    for one, other in pairs:
        current = va / len(pairs) / (volts[one] - volts[other]).conjugate()
        yield one, current
        yield other, -current


def line_volts(system: System) -> float:
    """Volts between two legs; of the high-leg system between any two."""
    first, second = list(VOLTS[system].values())[:2]
    return abs(first - second)


def neutral_volts(system: System) -> float:
    return abs(VOLTS[system]["A"])


def evenly(system: System, amperes: float, *, legs: int | None = None) -> float:
    """Volt-amperes of a load that draws `amperes` on every leg, or on so many of them."""
    root = math.sqrt(3) if (legs or len(system.legs)) == 3 else 1
    return root * line_volts(system) * amperes
