"""Harrow Mills, invented: where its yard, homes and sites lie, and how long the drive is."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

Spot = tuple[float, float]  # km east and north of the yard

YARD: Spot = (0.0, 0.0)
# Neighbourhoods: centre, spread in km, share of the sites.
QUARTERS: Sequence[tuple[Spot, float, int]] = (
    ((1.0, 0.5), 0.8, 5),  # the mill streets
    ((-3.5, 2.0), 1.0, 4),  # the ridge
    ((4.5, -3.0), 1.3, 3),  # new houses by the quarry
    ((-2.0, -5.0), 1.5, 2),  # the industrial park
    ((7.0, 6.0), 2.5, 2),  # farms
)
ROADS = 1.3  # road over straight line: common practice, no source
KM_PER_MINUTE = 40 / 60
PARKING = 2  # minutes at each change of place


def somewhere(dice: random.Random) -> Spot:
    (x, y), spread, _ = dice.choices(QUARTERS, [share for *_, share in QUARTERS])[0]
    return dice.gauss(x, spread), dice.gauss(y, spread)


def minutes(spots: Sequence[Spot]) -> list[list[int]]:
    """Whole minutes from each spot to each other, rounded up; none from a spot to itself."""
    return [
        [
            0 if a == b else math.ceil(math.dist(a, b) * ROADS / KM_PER_MINUTE) + PARKING
            for b in spots
        ]
        for a in spots
    ]
