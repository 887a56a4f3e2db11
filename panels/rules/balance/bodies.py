"""What moves as one piece in a panel, and what has to be held where it is?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from panels.rules.balance.breakers import Breaker
from panels.rules.balance.spots import Spot, rigid, tied
from panels.rules.errors import BadDescription
from panels.rules.layout import Frame, LayoutError, Seat


@dataclass(frozen=True, kw_only=True)
class Body:
    """Breakers that move as one piece, and every spot they could take."""

    members: tuple[int, ...]
    spots: tuple[Spot, ...]

    @property
    def is_small(self) -> bool:
        """It takes one space, so any space of a leg serves it like any other."""
        return all(len(spot.spaces) == 1 for spot in self.spots)

    @property
    def stay(self) -> Spot | None:
        return next((spot for spot in self.spots if not spot.moves), None)


def seated(frame: Frame, breakers: Sequence[Breaker]) -> list[Seat]:
    """Each breaker's seat. Raises `BadDescription` where one is taken or there is no such seat."""
    seats: list[Seat] = []
    for index, one in enumerate(breakers):
        path = f"circuits[{index + 1}].space"
        try:
            there = one.seat_in(frame)
        except LayoutError as refused:
            raise BadDescription(path, refused.sentence) from None
        for other, taken in zip(breakers, seats, strict=False):
            if there.overlaps(taken):
                told = f"{there.text} is taken by {other.name}, which sits in {taken.text}."
                raise BadDescription(path, told)
        seats.append(there)
    return seats


def bodies_of(
    frame: Frame, breakers: Sequence[Breaker], seats: Sequence[Seat]
) -> tuple[list[Body], list[str]]:
    """The bodies of a panel, and what is held where it is, in words."""
    groups = tied_groups(breakers)
    loose = [group for group in groups if not _stands_together(frame, group, seats, breakers)]
    ganged = [group for group in groups if group not in loose]
    held = {index for group in loose for index in group} | set(_tied_to_none(breakers, groups))
    bodies = [
        Body(members=tuple(group), spots=tied(frame, breakers, seats, group)) for group in ganged
    ]
    taken = {index for group in ganged for index in group}
    rest = [index for index in range(len(breakers)) if index not in taken]
    for piece in _by_space(rest, seats):
        stays = any(breakers[index].locked or index in held for index in piece)
        spots = rigid(frame, breakers, seats, piece, stays=stays)
        bodies.append(Body(members=tuple(piece), spots=spots))
    return sorted(bodies, key=lambda body: body.members), _notes(breakers, loose, groups)


def tied_groups(breakers: Sequence[Breaker]) -> list[list[int]]:
    """The single-poles whose handles are tied to one another, group by group."""
    groups: dict[str, list[int]] = {}
    for index, one in enumerate(breakers):
        if one.tied and one.poles == 1 and one.multiwire:
            groups.setdefault(one.multiwire, []).append(index)
    return [members for members in groups.values() if len(members) > 1]


def _tied_to_none(breakers: Sequence[Breaker], groups: Sequence[Sequence[int]]) -> list[int]:
    grouped = {index for group in groups for index in group}
    singles = [index for index, one in enumerate(breakers) if one.tied and one.poles == 1]
    return [index for index in singles if index not in grouped]


def _stands_together(
    frame: Frame, group: Sequence[int], seats: Sequence[Seat], breakers: Sequence[Breaker]
) -> bool:
    """Full-size breakers next to each other in one column, on as many legs as there are."""
    places = sorted(frame.place(seats[index].spaces[0]) for index in group)
    column, row = places[0]
    in_a_row = places == [(column, row + step) for step in range(len(group))]
    fits = len(group) <= len(frame.system.legs)
    return in_a_row and fits and not any(breakers[index].half for index in group)


def _by_space(indexes: Sequence[int], seats: Sequence[Seat]) -> list[list[int]]:
    """Breakers that share a space by halves are one body, and so on from space to space."""
    pieces: list[list[int]] = []
    for index in indexes:
        mine = set(seats[index].spaces)
        joined = [piece for piece in pieces if mine & {s for i in piece for s in seats[i].spaces}]
        pieces = [piece for piece in pieces if piece not in joined]
        pieces.append(sorted([index, *(i for piece in joined for i in piece)]))
    return pieces


def _notes(
    breakers: Sequence[Breaker], loose: Sequence[Sequence[int]], groups: Sequence[Sequence[int]]
) -> list[str]:
    alone = [
        f"{breakers[index].name} is recorded as handle-tied, but not with which breaker: it stays."
        for index in _tied_to_none(breakers, groups)
    ]
    apart = [
        f"{', '.join(breakers[index].name for index in group)}: recorded as handle-tied, but not "
        "full-size and next to each other in one column. They stay; look at the panel."
        for group in loose
    ]
    return alone + apart
