"""How are single-phase appliances counted when they hang on a three-phase supply?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from contractor.units import Quantity
from panels.rules.demand import times
from panels.rules.dwelling import Equipped
from panels.rules.quantities import show


@dataclass(frozen=True, kw_only=True)
class Pairing:
    """`count` appliances spread evenly; `entered` is the number their table is read at.

    On three phases that is twice (`rule`) the most that stand between any two of them; what the
    table gives stands between two phases, so half of it falls on each of the three (220.54,
    220.55).
    """

    count: int
    entered: int
    three_phase: bool

    def load(self, between: Quantity) -> Quantity:
        return times(between, 3 / 2) if self.three_phase else between

    def words(self, how: str, between: Quantity) -> str:
        if not self.three_phase:
            return how
        return f"{how} = {show(between)} for {self.entered}; ÷ 2 per phase, × 3 phases"


def pair(count: int, dwelling: Equipped, *, rule: int) -> Pairing:
    three = dwelling.service.supply.phases == 3
    entered = rule * math.ceil(count / 3) if three else count
    return Pairing(count=count, entered=entered, three_phase=three)
