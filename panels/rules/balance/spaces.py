"""Which of the free spaces does each body of one space take?"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from panels.rules.balance.bodies import Body
from panels.rules.balance.spots import Spot


def fill(
    moving: Mapping[int, Sequence[Spot]], bodies: Sequence[Body], *, taken: Collection[int]
) -> dict[int, Spot]:
    """A spot for each body that moves; two that can change places do, where that leaves room for
    the rest, because a swap is the easier work.
    """
    swaps = _swaps(moving, bodies, taken)
    return _first_fit(moving, swaps, taken) or _first_fit(moving, {}, taken) or {}


def _swaps(
    moving: Mapping[int, Sequence[Spot]], bodies: Sequence[Body], taken: Collection[int]
) -> dict[int, Spot]:
    left = {i: body.stay for i in moving if (body := bodies[i]) and body.stay is not None}
    found: dict[int, Spot] = {}
    for one in left:
        for other in left:
            if one >= other or one in found or other in found:
                continue
            there, here = _to(moving[one], left[other]), _to(moving[other], left[one])
            if there and here and not (there.spaces | here.spaces) & set(taken):
                found |= {one: there, other: here}
    return found


def _to(spots: Sequence[Spot], place: Spot) -> Spot | None:
    return next((spot for spot in spots if spot.spaces == place.spaces), None)


def _first_fit(
    moving: Mapping[int, Sequence[Spot]], settled: Mapping[int, Spot], taken: Collection[int]
) -> dict[int, Spot] | None:
    """The rest take the first free space, those with the smallest choice first; None where that
    leaves one without."""
    found = dict(settled)
    used = set(taken) | {space for spot in settled.values() for space in spot.spaces}
    for index in sorted(moving.keys() - found.keys(), key=lambda i: (len(moving[i]), i)):
        spot = next((spot for spot in moving[index] if not spot.spaces & used), None)
        if spot is None:
            return None
        found[index] = spot
        used |= spot.spaces
    return found
