"""What imbalance does arithmetic alone leave, however the breakers are placed?

Loads shift between legs by multiples of one step, and odd halves of two-pole loads come in pairs:
so the legs seldom come out exactly alike. Told from remainders, which are few.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import product

from panels.rules.balance.breakers import imbalance
from panels.rules.balance.lists import Choice

STEPS = 12  # remainders are taken to so many steps: thirds and quarters show


def least_possible(base: Choice, items: Sequence[Sequence[Choice]]) -> int:
    """No choice for the items leaves less than this between the legs, in sixths of a VA."""
    start: list[int] = [
        sum(x) for x in zip(base.load, *(item[0].load for item in items), strict=True)
    ]
    shifts = (zip(one.load, item[0].load, strict=True) for item in items for one in item)
    step = math.gcd(*(a - b for shift in shifts for a, b in shift))
    if not step:
        return imbalance(start)
    modulus, total = step * STEPS, sum(start)
    return min(
        _least(remainders, modulus, total, legs=len(start))
        for remainders in _reached(base, items, modulus)
    )


def _reached(base: Choice, items: Sequence[Sequence[Choice]], modulus: int) -> set[tuple[int, ...]]:
    """The remainders all legs but the last can have together."""
    reached = {tuple(load % modulus for load in base.load[:-1])}
    for item in items:
        shifts = {tuple(load % modulus for load in choice.load[:-1]) for choice in item}
        reached = {
            tuple((a + b) % modulus for a, b in zip(one, shift, strict=True))
            for one, shift in product(reached, shifts)
        }
    return reached


def _least(remainders: tuple[int, ...], modulus: int, total: int, *, legs: int) -> int:
    """The least imbalance of legs with these remainders that carry `total` together."""
    near = [list(_around(total / legs, remainder, modulus)) for remainder in remainders]
    return min(imbalance((*found, total - sum(found))) for found in product(*near))


def _around(mean: float, remainder: int, modulus: int) -> Iterator[int]:
    nearest = remainder + modulus * round((mean - remainder) / modulus)
    return (nearest + modulus * off for off in (-2, -1, 0, 1, 2))
