"""How well could the legs be balanced by so many moves, were there always room?

The answer to that easier question is exact, so it bounds the real one from below. Every choice of
legs with so many moves is looked at, two lists at a time that are joined where their sums meet.
Only legs matter here, not spaces.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from panels.rules.balance.breakers import Vector
from panels.rules.balance.floor import least_possible
from panels.rules.balance.joining import joined
from panels.rules.balance.lists import Choice, TooMany
from panels.rules.balance.splits import Item, Splits, Way

MOST_WAYS = 3000  # ways kept that reach an imbalance by so many moves


@dataclass(kw_only=True)
class Ladder:
    """`rungs[k]` is the least imbalance by at most k moves, in sixths of a VA (None: none at all).

    `exact`: no number of moves betters the last rung. `floor` is what arithmetic alone allows.
    """

    splits: Splits
    capacity: Vector
    floor: int
    rungs: list[int | None] = field(default_factory=list)
    exact: bool = False

    @property
    def least(self) -> int:
        """What no arrangement comes below."""
        last = self.rungs[-1] if self.rungs else None
        return last if self.exact and last is not None else self.floor

    def moves_for(self, most: int) -> int:
        """The number of moves without which an imbalance of `most` is out of reach."""
        reach = (k for k, rung in enumerate(self.rungs) if rung is not None and rung <= most)
        return next(reach, len(self.rungs))

    def ways(self, moves: int, limit: int) -> tuple[list[Way], bool]:
        """The ways with exactly so many moves within the limit, and whether these are all."""
        found: list[Way] = []
        self.splits.written = 0
        try:
            for pair in self.splits.pairs(moves):
                _, codes = joined(
                    pair.one, pair.other, capacity=self.capacity, limit=limit, most=MOST_WAYS,
                    least_only=False,
                )  # fmt: skip
                found += [self.splits.way(a, b, pair.split) for a, b in codes]
        except TooMany:
            return found, False
        return found[:MOST_WAYS], len(found) < MOST_WAYS


def climb(
    base: Choice, items: Sequence[Item], *, capacity: Vector, most: int | None = None
) -> Ladder:
    """The least imbalance by 0, 1, 2 ... moves, until no more moves can better it.

    `base` stands in any case; `capacity` are the spaces there are on each leg.
    """
    ladder = Ladder(
        splits=Splits(base, items), capacity=capacity, floor=least_possible(base, items)
    )
    last = base.moves + sum(max(choice.moves for choice in item) for item in items)
    best: int | None = None
    try:
        for moves in range((last if most is None else min(last, most)) + 1):
            best = _rung(ladder, moves, best)
            ladder.rungs.append(best)
            if best is not None and best <= ladder.floor:
                break
        ladder.exact = True
    except TooMany:
        pass
    return ladder


def _rung(ladder: Ladder, moves: int, best: int | None) -> int | None:
    """The least imbalance by exactly so many moves, if it is below the best so far."""
    for pair in ladder.splits.pairs(moves):
        limit = None if best is None else best - 1
        least, _ = joined(
            pair.one, pair.other, capacity=ladder.capacity, limit=limit, most=0, least_only=True
        )
        best = best if least is None else least
        if best is not None and best <= ladder.floor:
            break
    return best
