"""Which bodies make a difference to the legs, and in how many ways can they stand?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

from panels.rules.balance.bodies import Body
from panels.rules.balance.breakers import Vector
from panels.rules.balance.lists import Choice
from panels.rules.balance.spots import Pole, Spot
from panels.rules.layout import Frame

MOST_CHOICES = 4000  # of one cluster of bodies that share multiwire groups


@dataclass(frozen=True, kw_only=True)
class Stand:
    """What the spots of a body that are alike for the legs have in common."""

    load: Vector
    room: Vector
    poles: tuple[Pole, ...]


@dataclass(frozen=True, kw_only=True)
class Items:
    """What stands in any case, and the choices of each cluster of bodies.

    `stands[i][n]` says for the n-th choice of item i how each of its bodies stands.
    """

    base: Choice
    choices: tuple[tuple[Choice, ...], ...]
    stands: tuple[tuple[Mapping[int, Stand], ...], ...]

    def of(self, way: Sequence[int]) -> dict[int, Stand]:
        """How each body stands by these choices, one for each item."""
        found: dict[int, Stand] = {}
        for number, stands in zip(way, self.stands, strict=True):
            found |= stands[number]
        return found


@lru_cache(maxsize=20_000)
def stand_of(frame: Frame, spot: Spot, groups: frozenset[str]) -> Stand:
    """How a spot stands for the legs; asked again and again while a panel is worked on."""
    legs = [frame.leg(space) for space in spot.spaces]
    return Stand(
        load=spot.load,
        room=tuple(legs.count(leg) for leg in frame.system.legs),
        poles=tuple(sorted(pole for pole in spot.poles if pole[0] in groups)),
    )


def items_of(frame: Frame, bodies: Sequence[Body], groups: frozenset[str]) -> Items:
    """The bodies as items; those that share a group are one item, with the ways that keep it."""
    nothing = (0,) * len(frame.system.legs)
    base = Choice(load=nothing, room=nothing, moves=0)
    choices, stands = [], []
    for cluster in _clusters(bodies, groups):
        ways = _ways(frame, [bodies[i] for i in cluster], groups)
        if len({choice.load for choice, _ in ways}) == 1 and len(cluster) == 1:
            base = _added(base, ways)
            continue
        choices.append(tuple(choice for choice, _ in ways))
        stands.append(tuple(dict(zip(cluster, each, strict=True)) for _, each in ways))
    return Items(base=base, choices=tuple(choices), stands=tuple(stands))


def _added(base: Choice, ways: Sequence[tuple[Choice, tuple[Stand, ...]]]) -> Choice:
    """What does not change the legs is no choice; its room counts where it has only one."""
    first = ways[0][0]
    rooms = {choice.room for choice, _ in ways}
    room = first.room if len(rooms) == 1 else (0,) * len(first.room)
    return Choice(
        load=tuple(map(sum, zip(base.load, first.load, strict=True))),
        room=tuple(map(sum, zip(base.room, room, strict=True))),
        moves=base.moves + min(choice.moves for choice, _ in ways),
    )


def _clusters(bodies: Sequence[Body], groups: frozenset[str]) -> list[list[int]]:
    clusters: list[tuple[set[str], list[int]]] = []
    for index, body in enumerate(bodies):
        mine = (
            {pole[0] for pole in body.spots[0].poles if pole[0] in groups} if body.spots else set()
        )
        joined = [one for one in clusters if mine & one[0]]
        clusters = [one for one in clusters if one not in joined]
        names = mine.union(*(one[0] for one in joined))
        clusters.append((names, sorted([index, *(i for one in joined for i in one[1])])))
    return [members for _names, members in clusters]


def _ways(
    frame: Frame, bodies: Sequence[Body], groups: frozenset[str]
) -> list[tuple[Choice, tuple[Stand, ...]]]:
    """Every way for these bodies to stand without two poles of a group on one leg."""
    best: list[dict[Stand, int]] = []
    for body in bodies:
        least: dict[Stand, int] = {}
        for spot in body.spots:
            stand = stand_of(frame, spot, groups)
            least[stand] = min(spot.moves, least.get(stand, spot.moves))
        best.append(least)
    found = []
    for stands in product(*best):
        poles = [pole for stand in stands for pole in stand.poles]
        if len(set(poles)) < len(poles):
            continue
        moves = sum(least[stand] for least, stand in zip(best, stands, strict=True))
        load = tuple(map(sum, zip(*(stand.load for stand in stands), strict=True)))
        room = tuple(map(sum, zip(*(stand.room for stand in stands), strict=True)))
        found.append((Choice(load=load, room=room, moves=moves), stands))
    return sorted(found, key=lambda way: way[0].moves)
