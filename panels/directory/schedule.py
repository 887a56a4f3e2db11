"""How do a panel's breakers stand about the bus, row by row, as the trade draws a schedule?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from panels.directory.content import Circuit, Directory
from panels.rules.layout import Frame, Half, Seat


@dataclass(frozen=True, kw_only=True)
class Part:
    """What is in a space, or in half of one; no circuit means nothing is.

    `with_mark` names the other half a two-pole of a quad takes; `first` is false where such a
    breaker was already met.
    """

    mark: str
    circuit: Circuit | None = None
    with_mark: str = ""
    first: bool = True


@dataclass(frozen=True, kw_only=True)
class Side:
    """One cell beside the bus: a breaker over `rows` rows, or the two halves of a tandem."""

    spaces: tuple[int, ...]
    parts: tuple[Part, ...]

    @property
    def rows(self) -> int:
        return len(self.spaces)


@dataclass(frozen=True, kw_only=True)
class Row:
    """One row. A side is None where a breaker above covers it, or nothing can sit."""

    leg: str
    left_no: int | None
    right_no: int | None
    left: Side | None
    right: Side | None


def rows(directory: Directory) -> list[Row]:
    """Every row from the top, with every space of the panel exactly once."""
    frame, sides = directory.frame, _sides(directory)
    depth = 1 + max(frame.place(space)[1] for space in range(1, frame.spaces + 1))
    return [_row(frame, sides, number) for number in range(depth)]


def parts(directory: Directory) -> Iterator[tuple[Side, Part]]:
    """Every breaker, half and empty space once, in the order of the space numbers."""
    for _first, side in sorted(_sides(directory).items()):
        for part in side.parts:
            yield side, part


def _sides(directory: Directory) -> dict[int, Side]:
    """Each side by its first space; a full-size breaker covers the spaces of its other poles."""
    sides: dict[int, Side] = {}
    halves: dict[str, Part] = {}
    covered: set[int] = set()
    for circuit in directory.circuits:
        where = directory.seat_of(circuit)
        if circuit.half:
            halves |= {part.mark: part for part in _halves(circuit, where)}
        else:
            part = Part(mark=str(circuit.space), circuit=circuit)
            sides[circuit.space] = Side(spaces=where.spaces, parts=(part,))
            covered.update(where.spaces[1:])
    for space in range(1, directory.identity.spaces + 1):
        if space not in covered:
            sides.setdefault(space, Side(spaces=(space,), parts=_parts(space, halves)))
    return sides


def _halves(circuit: Circuit, where: Seat) -> Iterator[Part]:
    marks = where.text.split(",")
    for index, mark in enumerate(marks):
        others = ", ".join(other for other in marks if other != mark)
        yield Part(mark=mark, circuit=circuit, with_mark=others, first=index == 0)


def _parts(space: int, halves: dict[str, Part]) -> tuple[Part, ...]:
    marks = [f"{space}{half.value}" for half in Half]
    if not any(mark in halves for mark in marks):
        return (Part(mark=str(space)),)
    return tuple(halves.get(mark, Part(mark=mark)) for mark in marks)


def _row(frame: Frame, sides: dict[int, Side], number: int) -> Row:
    left_no, right_no = frame.number(0, number), frame.number(1, number)
    return Row(
        leg=frame.leg(left_no or right_no or 1),
        left_no=left_no,
        right_no=right_no,
        left=sides.get(left_no) if left_no else None,
        right=sides.get(right_no) if right_no else None,
    )
