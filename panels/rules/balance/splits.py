"""How are all choices with so many moves made up of two lists each, so that few are written out?

Two ways. Split the items in the middle: every number of moves before it meets the rest behind it;
that is short where there are few items. Or split behind the item with which half of the moves are
reached: that is short where there are few moves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from panels.rules.balance.breakers import Vector
from panels.rules.balance.lists import Choice, Listed, Lists, TooMany, counts, together

MOST_WRITTEN = 9_000_000  # choices written out in all
Item = Sequence[Choice]
Way = tuple[int, ...]  # the number of the choice taken for each item


@dataclass(frozen=True, kw_only=True)
class Pair:
    """Two lists that make so many moves together; `split` is how many items the first is of."""

    one: Listed
    other: Listed
    split: int


class Splits:
    """The items of a panel, and what stands in any case."""

    def __init__(self, base: Choice, items: Sequence[Item]) -> None:
        nothing: Vector = (0,) * len(base.load)
        self.base, self.items, self.written = base, items, 0
        self.ahead = Lists(base, items)
        self.behind = Lists(Choice(load=nothing, room=nothing, moves=0), items[::-1])
        self.many_ahead, self.many_behind = counts(items), counts(items[::-1])

    def pairs(self, moves: int) -> Iterator[Pair]:
        """Every choice with exactly so many moves, as a pair, once. Raises `TooMany`."""
        middle, ordered = self._written_by_middle(moves), self._written_by_order(moves)
        self.written += min(middle, ordered)
        if self.written > MOST_WRITTEN:
            raise TooMany
        return self._by_middle(moves) if middle <= ordered else self._by_order(moves)

    def way(self, a: int, b: int, split: int) -> Way:
        rest = len(self.items) - split
        return (*self.ahead.decoded(a, split), *self.behind.decoded(b, rest)[::-1])

    def _by_middle(self, moves: int) -> Iterator[Pair]:
        split = len(self.items) // 2
        for mine in range(moves + 1):
            one = self.ahead.of_first(split, mine)
            other = self.behind.of_first(len(self.items) - split, moves - mine)
            if one is not None and other is not None:
                yield Pair(one=one, other=other, split=split)

    def _by_order(self, moves: int) -> Iterator[Pair]:
        """Split behind the item with which half of the moves, or more, are reached."""
        half = (moves - self.base.moves + 1) // 2 + self.base.moves
        if half == self.base.moves:
            yield from self._by_middle(moves)
            return
        for at, item in enumerate(self.items):
            for reached in sorted({half + more for c in item for more in range(c.moves)}):
                one = self._reaching(at, item, half, reached)
                other = self.behind.of_first(len(self.items) - at - 1, moves - reached)
                if one is not None and other is not None:
                    yield Pair(one=one, other=other, split=at + 1)

    def _reaching(self, at: int, item: Item, half: int, reached: int) -> Listed | None:
        """The choices of the first items that come to `reached` moves, and not to `half` before."""
        parts = []
        for number, choice in enumerate(item):
            before = reached - choice.moves
            rest = self.ahead.of_first(at, before) if before < half else None
            if rest is not None:
                parts.append(rest.plus(choice, code=rest.code * len(item) + number))
        return together(parts)

    def _written_by_middle(self, moves: int) -> int:
        split, moves = len(self.items) // 2, moves - self.base.moves
        ahead, behind = self.many_ahead[split], self.many_behind[len(self.items) - split]
        return sum(many.get(k, 0) for many in (ahead, behind) for k in range(moves + 1))

    def _written_by_order(self, moves: int) -> int:
        moves -= self.base.moves
        half = (moves + 1) // 2
        ahead = sum(many.get(half, 0) for many in self.many_ahead)
        behind = sum(many.get(k, 0) for many in self.many_behind for k in range(moves - half + 1))
        return ahead + behind
