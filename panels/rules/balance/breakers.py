"""What is known of each breaker, and what does a proposal say?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from panels.rules.layout import Frame, Half, Seat, System, seat

SCALE = 6  # loads are kept in sixths of a VA: half and a third of them stay whole numbers
HIGH_LEG = {System.DELTA_240: "B"}  # 110.15, 408.3(E): the phase with the higher voltage
N = TypeVar("N", int, float)
Vector = tuple[int, ...]  # sixths of a VA on each leg, in the order of the system's legs


@dataclass(frozen=True, kw_only=True)
class Breaker:
    """A breaker where it sits now. `va` is its load, None where none is recorded.

    `multiwire` names the group it shares a neutral with; `tied`: its handle is tied to the
    single-poles of the same group.
    """

    name: str
    space: int
    poles: int = 1
    half: Half | None = None
    va: int | None = None
    locked: bool = False
    multiwire: str = ""
    tied: bool = False

    def seat_in(self, frame: Frame) -> Seat:
        return seat(frame, space=self.space, poles=self.poles, half=self.half)


@dataclass(frozen=True, kw_only=True)
class Move:
    """A breaker that changes its place; `index` is its place in the list that was given."""

    index: int
    was: Seat
    now: Seat


@dataclass(frozen=True, kw_only=True)
class Rung:
    """With at most `moves` moves no arrangement comes below `least` VA of imbalance."""

    moves: int
    least: float


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """The places proposed, what they achieve and what is proven of them.

    `least` is the imbalance no arrangement can come below, `least_moves` the number of moves
    without which `imbalance` cannot be reached. A move is a body that changes its place: a
    breaker, a tandem or a quad. `notes` say what was held or put right.
    """

    before: tuple[float, ...]
    after: tuple[float, ...]
    least: float
    moves: int
    least_moves: int
    moved: tuple[Move, ...]
    rungs: tuple[Rung, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def imbalance_before(self) -> float:
        return imbalance(self.before)

    @property
    def imbalance(self) -> float:
        return imbalance(self.after)

    @property
    def proven(self) -> bool:
        """No arrangement is better, and none as good takes fewer moves."""
        return self.imbalance < self.least + 1e-6 and self.moves <= self.least_moves


def imbalance(legs: Sequence[N]) -> N:
    """The most loaded leg less the least loaded: of two legs |A - B|."""
    return max(legs) - min(legs)


def on_legs(frame: Frame, va: int, legs: Sequence[str]) -> Vector:
    """A load in sixths of a VA, in equal parts on the legs its breaker stands on."""
    return tuple(va * SCALE // len(legs) * legs.count(leg) for leg in frame.system.legs)


def total(frame: Frame, breakers: Sequence[Breaker], seats: Sequence[Seat]) -> tuple[float, ...]:
    """VA on each leg with the breakers in these seats."""
    loads = [
        on_legs(frame, one.va or 0, where.legs) for one, where in zip(breakers, seats, strict=True)
    ]
    sums = map(sum, zip(*loads, strict=True)) if loads else [0] * len(frame.system.legs)
    return tuple(each / SCALE for each in sums)
