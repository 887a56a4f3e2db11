"""Do the bodies that change their leg find places when all the others stay where they are?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from panels.rules.balance.bodies import Body
from panels.rules.balance.items import Stand, stand_of
from panels.rules.balance.spots import Spot
from panels.rules.layout import Frame

MOST_LOOKED_AT = 4000


class GaveUp(Exception):
    """More to look at than is worth while; the solver is asked instead."""


class Fitting:
    """A panel whose bodies' spots are sorted by how they stand, to ask for many ways at once."""

    def __init__(self, frame: Frame, bodies: Sequence[Body], groups: frozenset[str]) -> None:
        self.bodies = bodies
        self.here: list[Stand | None] = []
        self.spots: list[dict[Stand, list[Spot]]] = []
        for body in bodies:
            stands: dict[Stand, list[Spot]] = {}
            for spot in body.spots:
                stands.setdefault(stand_of(frame, spot, groups), []).append(spot)
            least = {stand: min(s.moves for s in spots) for stand, spots in stands.items()}
            self.spots.append(
                {stand: [s for s in spots if s.moves == least[stand]]
                 for stand, spots in stands.items()}
            )  # fmt: skip
            self.here.append(stand_of(frame, body.stay, groups) if body.stay else None)

    def fit(self, stands: Mapping[int, Stand]) -> tuple[Spot, ...] | None:
        """A spot for every body, those that stand as before staying; None where there is none.

        Raises `GaveUp`.
        """
        found, changed = {}, {}
        for index, body in enumerate(self.bodies):
            stand = stands.get(index, self.here[index])
            if body.stay is not None and stand == self.here[index]:
                found[index] = body.stay
            else:
                changed[index] = self.spots[index].get(stand, body.spots) if stand else body.spots
        taken = frozenset(space for spot in found.values() for space in spot.spaces)
        free = {
            index: [spot for spot in spots if not spot.spaces & taken]
            for index, spots in changed.items()
        }
        settled = _settle(free, frozenset(), [MOST_LOOKED_AT])
        if settled is None:
            return None
        found |= settled
        return tuple(found[index] for index in range(len(self.bodies)))


def _settle(
    free: Mapping[int, Sequence[Spot]], used: frozenset[int], left: list[int]
) -> dict[int, Spot] | None:
    """One spot each, none over another: the body with the least choice first."""
    if not free:
        return {}
    left[0] -= 1
    if left[0] < 0:
        raise GaveUp
    choice = {i: [s for s in spots if not s.spaces & used] for i, spots in free.items()}
    index = min(choice, key=lambda i: (len(choice[i]), i))
    rest = {i: spots for i, spots in choice.items() if i != index}
    for spot in choice[index]:
        settled = _settle(rest, used | spot.spaces, left)
        if settled is not None:
            return settled | {index: spot}
    return None
