"""What does chance say, the same for the same seed on every machine?"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from jobs.planning.solve.compiled import compiled

ONE = np.uint64(1)
# xorshift64* (Marsaglia 2003, Vigna 2016): three shifts and an odd multiplier.
A, B, C = np.uint64(12), np.uint64(25), np.uint64(27)
TIMES = np.uint64(2685821657736338717)
TOP = np.uint64(11)
UNIT = 2.0**-53


def seeded(seed: int) -> NDArray[np.uint64]:
    """The state for a seed; neighbouring seeds start far apart."""
    return np.random.SeedSequence(seed).generate_state(1, np.uint64) | ONE


@compiled
def draw(rng: NDArray[np.uint64]) -> float:
    """A number in [0, 1); `rng` (one element) moves on."""
    x = rng[0]
    x ^= x >> A
    x ^= x << B
    x ^= x >> C
    rng[0] = x
    return float((x * TIMES) >> TOP) * UNIT


@compiled
def below(rng: NDArray[np.uint64], n: int) -> int:
    """A whole number from 0 through n - 1."""
    return int(draw(rng) * n)
