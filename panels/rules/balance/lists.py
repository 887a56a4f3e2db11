"""In how many ways can some bodies stand with so many moves, and what do they make together?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from panels.rules.balance.breakers import Vector

MOST_LISTED = 1_500_000  # choices in one list
Array = Any  # numpy's own types say nothing of shapes


class TooMany(Exception):
    """More than can be looked at in the time there is."""


@dataclass(frozen=True, kw_only=True)
class Choice:
    """One way for an item to stand: its load and its spaces on each leg, and its moves."""

    load: Vector
    room: Vector
    moves: int


@dataclass(frozen=True, kw_only=True)
class Listed:
    """Choices with so many moves: loads and spaces by leg, one column each, and their codes."""

    load: Array
    room: Array
    code: Array

    def __len__(self) -> int:
        return len(self.code)

    @property
    def u(self) -> Array:
        return self.load[0].astype(np.int64) - self.load[-1]

    @property
    def v(self) -> Array:
        return self.load[1].astype(np.int64) - self.load[-1]

    def plus(self, choice: Choice, *, code: Array) -> Listed:
        """Each of them with one more choice."""
        column = (len(choice.load), 1)
        return Listed(
            load=self.load + np.array(choice.load, np.int32).reshape(column),
            room=self.room + np.array(choice.room, np.int8).reshape(column),
            code=code,
        )


def alone(choice: Choice) -> Listed:
    column = (len(choice.load), 1)
    return Listed(
        load=np.array(choice.load, np.int32).reshape(column),
        room=np.array(choice.room, np.int8).reshape(column),
        code=np.zeros(1, np.int64),
    )


def together(parts: Sequence[Listed]) -> Listed | None:
    if sum(map(len, parts)) > MOST_LISTED:
        raise TooMany
    if len(parts) < 2:
        return parts[0] if parts else None
    return Listed(
        load=np.concatenate([part.load for part in parts], axis=1),
        room=np.concatenate([part.room for part in parts], axis=1),
        code=np.concatenate([part.code for part in parts]),
    )


class Lists:
    """The choices of a row of items by number of moves, for the first of them and so on; each
    list is made once.
    """

    def __init__(self, base: Choice, items: Sequence[Sequence[Choice]]) -> None:
        self.items = items
        self.known: dict[tuple[int, int], Listed | None] = {(0, base.moves): alone(base)}

    def of_first(self, count: int, moves: int) -> Listed | None:
        """Of the first `count` items, exactly so many moves; None where there are none.

        Raises `TooMany`.
        """
        if moves < 0 or not count:
            return self.known.get((count, moves))
        if (count, moves) not in self.known:
            item, parts = self.items[count - 1], []
            for number, choice in enumerate(item):
                rest = self.of_first(count - 1, moves - choice.moves)
                if rest is not None:
                    parts.append(rest.plus(choice, code=rest.code * len(item) + number))
            self.known[count, moves] = together(parts)
        return self.known[count, moves]

    def decoded(self, code: int, count: int) -> tuple[int, ...]:
        """The number of the choice taken for each of the first `count` items."""
        numbers: list[int] = []
        for item in reversed(self.items[:count]):
            code, number = divmod(code, len(item))
            numbers.append(number)
        return tuple(reversed(numbers))


def counts(items: Sequence[Sequence[Choice]]) -> list[dict[int, int]]:
    """How many choices there are by number of moves, of the first 0, 1, 2 ... items."""
    found = [{0: 1}]
    for item in items:
        grown: dict[int, int] = {}
        for moves, many in found[-1].items():
            for choice in item:
                grown[moves + choice.moves] = grown.get(moves + choice.moves, 0) + many
        found.append(grown)
    return found
