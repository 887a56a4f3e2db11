"""Which multiwire groups must the proposal keep on different legs, and which cannot be?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from panels.rules.balance.bodies import Body
from panels.rules.balance.breakers import Breaker
from panels.rules.layout import Frame, Seat


def kept_apart(
    frame: Frame, breakers: Sequence[Breaker], seats: Sequence[Seat], bodies: Sequence[Body]
) -> tuple[frozenset[str], list[str]]:
    """The groups whose poles are to stand on different legs (210.4), and what to say of them."""
    kept, notes = set(), []
    for group in sorted({one.multiwire for one in breakers if one.multiwire}):
        mine = [
            body for body in bodies if any(breakers[i].multiwire == group for i in body.members)
        ]
        poles = [leg for one, seat in zip(breakers, seats, strict=True)
                 if one.multiwire == group for leg in seat.legs]  # fmt: skip
        crossed = max(Counter(poles).values()) > 1
        if can_stand_apart(group, poles, mine, legs=len(frame.system.legs)):
            kept.add(group)
            if crossed:
                notes.append(
                    f"Multiwire group {group} has two circuits on one leg now; the proposal puts "
                    "them on different legs (210.4)."
                )
        elif crossed:
            notes.append(
                f"Multiwire group {group} has two circuits on one leg, and moving breakers cannot "
                "put them apart as recorded. Look at it: the neutral carries their sum (210.4)."
            )
    return frozenset(kept), notes


def can_stand_apart(group: str, poles: Sequence[str], bodies: Sequence[Body], *, legs: int) -> bool:
    """There are legs enough, no body has two of its poles on one leg, and one of them can move."""
    movable = any(len(body.spots) > 1 for body in bodies)
    return len(poles) <= legs and movable and all(_spread(group, body) for body in bodies)


def _spread(group: str, body: Body) -> bool:
    return any(
        max(Counter(pole for pole in spot.poles if pole[0] == group).values()) == 1
        for spot in body.spots
    )
