"""What does a group of a shop's loads add, and how much more at 125 % for what runs for hours?"""

from __future__ import annotations

from dataclasses import dataclass

from contractor.units import Quantity
from panels.rules.demand import Demand, Share, times, total
from panels.rules.dwelling import Equipped, Kind, Load
from panels.rules.edition import Edition
from panels.rules.quantities import va

NOTHING = va(0.0)


@dataclass(frozen=True, kw_only=True)
class Piece:
    """A demand, and `extra`: what continuous loads in it add for conductors and overcurrent
    devices, not for the load itself (215.2(A)(1), 215.3).

    `three_phase` is the part that stands on all three legs.
    """

    demand: Demand
    extra: Quantity = NOTHING
    three_phase: Quantity = NOTHING


def steady(load: Load) -> bool:
    """Taken at 125 %: marked as running three hours or more, or vehicle supply (625.42).

    A motor is not: 430.24 has its own quarter.
    """
    return load.kind is Kind.VEHICLE or (load.continuous and not load.driven)


def quarter(load: Quantity, edition: Edition) -> Quantity:
    return times(load, edition.wire.carrying.continuous.value - 1.0)


def piece_of(demand: Demand, edition: Edition) -> Piece:
    """The piece of a demand whose loads stay single."""
    return Piece(
        demand=demand,
        extra=quarter(_sum(*(share for share in demand.shares if steady(share.load))), edition),
        three_phase=_sum(*(share for share in demand.shares if share.load.phases == 3)),
    )


def managed_piece(demand: Demand, shop: Equipped, edition: Edition) -> Piece:
    """The set point counts as continuous where anything it holds down does (750.30)."""
    held = shop.managed
    three = demand.load if held and all(load.phases == 3 for load in held) else NOTHING
    running = demand.load if any(map(steady, held)) else NOTHING
    return Piece(demand=demand, extra=quarter(running, edition), three_phase=three)


def _sum(*shares: Share) -> Quantity:
    return total(*(va(share.va) for share in shares))
