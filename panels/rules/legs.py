"""What does each leg carry, where it is recorded on which leg the single loads stand?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

from contractor.units import Q, Quantity
from panels.rules.demand import Demand, Share, total
from panels.rules.dwelling import Dwelling
from panels.rules.edition import Edition
from panels.rules.motors import driven
from panels.rules.quantities import AMPERE, show
from panels.rules.supply import Supply
from panels.rules.working import Line, Section, line


@dataclass(frozen=True, kw_only=True)
class Season:
    """What runs together: demands spread over both legs, and the single loads beside them."""

    spread: tuple[Demand, ...]
    shares: tuple[Share, ...]
    supply: Supply
    motor_extra: float

    def leg(self, leg: str) -> list[float]:
        """The currents on a leg: spread, each load, a quarter of the largest motor."""
        between = total(*(demand.between_legs for demand in self.spread))
        on_leg = [share for share in self.shares if share.load.leg in ("", leg)]
        return [
            self._spread(between),
            *(self._amperes(share) for share in on_leg),
            self._quarter(on_leg),
        ]

    def neutral(self) -> list[float]:
        """The currents on the neutral: of both legs' loads, largest against largest, the larger.

        So it is done in Annex D, Example D1(b), with the quarter of a motor as well.
        """
        between = total(*(demand.neutral for demand in self.spread))
        legs = [
            [share for share in self.shares if share.load.leg == leg]
            for leg in self.supply.system.legs
        ]
        falling = (sorted(map(self._amperes, shares), reverse=True) for shares in legs)
        pairs = zip_longest(*falling, fillvalue=0.0)
        return [self._spread(between), *map(max, pairs), max(map(self._quarter, legs))]

    def _spread(self, between: Quantity) -> float:
        single = total(*(demand.to_neutral for demand in self.spread))
        current = self.supply.amperes(between_legs=between, to_neutral=single)
        return float(current.m_as(AMPERE))

    def _amperes(self, share: Share) -> float:
        return share.load.amperes(self.supply) * share.load.count * share.factor

    def _quarter(self, shares: Sequence[Share]) -> float:
        currents = (share.load.amperes(self.supply) for share in driven(shares))
        return self.motor_extra * max(currents, default=0.0)


def legs_section(demands: Sequence[Demand], dwelling: Dwelling, edition: Edition) -> Section | None:
    """Amperes leg by leg, by nameplate where it gives amperes; None where legs are not recorded.

    Each line is that of the season in which it is larger.
    """
    supply = dwelling.service.supply
    spread = tuple(demand for demand in demands if not demand.shares and demand.key != "motor")
    seasons = [
        Season(
            spread=spread,
            shares=shares,
            supply=supply,
            motor_extra=edition.motor_extra.value,
        )
        for shares in (_shares(demands), _shares(demands, off_season=True))
    ]
    single = [share.load for season in seasons for share in season.shares if share.load.to_neutral]
    if supply.phases == 3 or not single or not all(load.leg for load in single):
        return None
    lines = [
        _line(f"line_{leg.lower()}", f"Leg {leg}", [season.leg(leg) for season in seasons], edition)
        for leg in supply.system.legs
    ]
    lines.append(_line("line_n", "Neutral", [season.neutral() for season in seasons], edition))
    return Section(title="Leg by leg", lines=tuple(lines))


def _shares(demands: Sequence[Demand], *, off_season: bool = False) -> tuple[Share, ...]:
    """The single loads that run together, in the season counted or in the other one."""
    chosen = (
        demand.off_season if off_season and demand.off_season else demand.shares
        for demand in demands
    )
    return tuple(share for shares in chosen for share in shares)


def _line(key: str, label: str, seasons: Sequence[Sequence[float]], edition: Edition) -> Line:
    parts = [Q(part, AMPERE) for part in max(seasons, key=sum) if part]
    how = " + ".join(show(part) for part in parts)
    amount = Q(sum(part.magnitude for part in parts), AMPERE)
    return line(key, label, amount, edition.motor_extra, how=how, total=True)
