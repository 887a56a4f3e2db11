"""How do volt-amperes become amperes on the legs of a voltage system?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from contractor.units import Q, Quantity
from panels.rules.errors import BadDescription
from panels.rules.layout import System
from panels.rules.quantities import AMPERE, VA, VOLT


@dataclass(frozen=True, kw_only=True)
class Supply:
    """The nominal voltages of a system, its legs, and whether they come from a wye."""

    system: System
    line: Quantity
    to_neutral: Quantity
    phases: int
    wye: bool

    @property
    def wye_three_wire(self) -> bool:
        """Two legs and the neutral of a four-wire wye."""
        return self.wye and self.phases == 1

    def amperes(self, *, between_legs: Quantity, to_neutral: Quantity) -> Quantity:
        """The current per leg of loads spread evenly over the legs.

        Single phase: VA between legs over the line voltage, VA to neutral over twice the leg
        voltage. Three phase: all VA over the square root of three times the line voltage.
        """
        across, single = between_legs.m_as(VA), to_neutral.m_as(VA)
        if self.phases == 3:
            return Q((across + single) / (math.sqrt(3) * self.line.m_as(VOLT)), AMPERE)
        divided = across / self.line.m_as(VOLT) + single / (2 * self.to_neutral.m_as(VOLT))
        return Q(divided, AMPERE)


def _supply(system: System, line: float, to_neutral: float, phases: int, wye: bool) -> Supply:
    return Supply(
        system=system, line=Q(line, VOLT), to_neutral=Q(to_neutral, VOLT), phases=phases, wye=wye
    )


ALL_SUPPLIES = {
    supply.system: supply
    for supply in (
        _supply(System.SPLIT_240, 240.0, 120.0, 1, False),
        _supply(System.WYE_208_2LEG, 208.0, 120.0, 1, True),
        _supply(System.WYE_208, 208.0, 120.0, 3, True),
        _supply(System.DELTA_240, 240.0, 120.0, 3, False),
        _supply(System.WYE_480, 480.0, 277.0, 3, True),
    )
}
# Those that feed dwellings; the others feed shops only.
SUPPLIES = {
    system: ALL_SUPPLIES[system]
    for system in (System.SPLIT_240, System.WYE_208_2LEG, System.WYE_208)
}


def supply_of(system: System) -> Supply:
    """The supply of a system dwellings are fed by. Raises `BadDescription` for any other."""
    if system not in SUPPLIES:
        known = ", ".join(known.label for known in SUPPLIES)
        raise BadDescription("system", f"{system.label} does not feed dwellings: {known}.")
    return SUPPLIES[system]
