"""In which order can the breakers be moved, so that each finds its spaces free?"""

from __future__ import annotations

import enum
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from panels.rules.balance.breakers import Move
from panels.rules.layout import Seat


class Kind(enum.StrEnum):
    MOVE = "move"
    SWAP = "swap"
    ASIDE = "aside"


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step: move into free spaces, let two change places, or take one out and lay it aside."""

    kind: Kind
    moves: tuple[Move, ...]


def in_order(moves: Sequence[Move], staying: Iterable[Seat]) -> list[Step]:
    """Steps that carry out the moves. Bodies of several breakers go as one; where none can go
    because each waits for another, two change places or one is laid aside first.
    """
    waiting = _pieces(moves)
    standing = list(staying)
    steps: list[Step] = []
    while waiting:
        for piece in waiting:
            others = [m.was for other in waiting if other is not piece for m in other]
            if not _clash([m.now for m in piece], [*standing, *others]):
                steps.append(Step(kind=Kind.MOVE, moves=tuple(piece)))
                standing += [m.now for m in piece]
                waiting.remove(piece)
                break
        else:
            steps.append(_untangle(waiting, standing))
    return steps


def _pieces(moves: Sequence[Move]) -> list[list[Move]]:
    """Moves that shared a space before go together: a tandem, a quad."""
    pieces: list[list[Move]] = []
    for move in sorted(moves, key=lambda one: (one.was.slots, one.index)):
        spaces = set(move.was.spaces)
        mine = [piece for piece in pieces if spaces & {s for m in piece for s in m.was.spaces}]
        pieces = [piece for piece in pieces if piece not in mine]
        pieces.append([*(m for piece in mine for m in piece), move])
    return pieces


def _untangle(waiting: list[list[Move]], standing: list[Seat]) -> Step:
    """Let two change places, or take the first out; its spaces are free from then on."""
    for one in waiting:
        for other in waiting:
            if one is not other and _trade(one, other):
                waiting.remove(one)
                waiting.remove(other)
                standing += [m.now for m in (*one, *other)]
                return Step(kind=Kind.SWAP, moves=(*one, *other))
    out = waiting.pop(0)
    nowhere = [Move(index=m.index, was=Seat(poles=(), slots=()), now=m.now) for m in out]
    waiting.append(nowhere)
    return Step(kind=Kind.ASIDE, moves=tuple(out))


def _trade(one: Sequence[Move], other: Sequence[Move]) -> bool:
    """Each goes exactly to where the other was."""
    return _slots(m.was for m in one) == _slots(m.now for m in other) and (
        _slots(m.now for m in one) == _slots(m.was for m in other)
    )


def _slots(seats: Iterable[Seat]) -> list[tuple[int, int]]:
    return sorted(slot for seat in seats for slot in seat.slots)


def _clash(seats: Iterable[Seat], others: Sequence[Seat]) -> bool:
    return any(seat.overlaps(other) for seat in seats for other in others)
