"""The panel as it is drawn on pages: the large schedule, and the small picture to choose from."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from django.urls import reverse
from django.utils.translation import gettext as _

from panels.models import Circuit, Panel
from panels.queries.records import fed_by
from panels.rules import backplate
from panels.rules.layout import Numbering, Seat

Seated = list[tuple[Circuit, Seat]]
KINDS = {Circuit.Kind.BRANCH.value: "circuit"}
BRIEF = {
    Circuit.Protection.GFCI.value: "GFCI",
    Circuit.Protection.AFCI.value: "AFCI",
    Circuit.Protection.DUAL.value: "AFCI/GFCI",
}
METALS = {Circuit.Material.COPPER.value: "Cu", Circuit.Material.ALUMINIUM.value: "Al"}


@dataclass(frozen=True, kw_only=True)
class HalfCell:
    """One breaker of a tandem: `mark` is a or b, `place` the space with it."""

    mark: str
    place: str
    name: str
    amps: int | None
    url: str
    is_picked: bool = False


@dataclass(frozen=True, kw_only=True)
class Cell:
    """One side of a row, as contractor/components/schedule.html takes it."""

    name: str
    amps: int | None = None
    poles: int = 1
    rows: int = 1
    kind: str = "circuit"
    aside: str = ""
    url: str = ""
    to: str = ""
    to_url: str = ""
    mark: str = ""
    leg: str = ""
    is_picked: bool = False
    halves: list[HalfCell] = field(default_factory=list)


@dataclass(frozen=True, kw_only=True)
class DrawnRow:
    leg: str
    left_no: int | None
    right_no: int | None
    left: Cell | None
    right: Cell | None


@dataclass(frozen=True, kw_only=True)
class Schedule:
    legs: int
    is_single: bool
    rows: list[DrawnRow]
    caption: str = ""


def seated(panel: Panel, circuits: Sequence[Circuit]) -> Seated:
    frame = panel.frame
    return [(circuit, circuit.seat_in(frame)) for circuit in circuits]


def schedule(panel: Panel, found: Seated, *, space_url: Callable[[str], str]) -> Schedule:
    """The whole panel; an empty space leads to `space_url(mark)`, unless that is empty."""
    drawn = [
        DrawnRow(
            leg=row.leg,
            left_no=row.left_no,
            right_no=row.right_no,
            left=cell(row.left, space_url) if row.left else None,
            right=cell(row.right, space_url) if row.right else None,
        )
        for row in backplate.rows(panel.frame, found)
    ]
    frame = panel.frame
    return Schedule(
        legs=len(frame.system.legs),
        is_single=frame.numbering is Numbering.SINGLE,
        rows=drawn,
    )


def columns(
    panel: Panel, found: Seated, *, space_url: Callable[[str], str], picked: str = ""
) -> list[list[Cell]]:
    """The small picture: the cells of each column from the top; `picked` is the space or half."""
    frame = panel.frame
    drawn: list[list[Cell]] = [[], []]
    for side in sorted(backplate.sides(frame, found), key=lambda side: frame.place(side.spaces[0])):
        column, _row = frame.place(side.spaces[0])
        drawn[column].append(cell(side, space_url, picked=picked))
    return [column for column in drawn if column]


def cell(
    side: backplate.Side[Circuit], space_url: Callable[[str], str], *, picked: str = ""
) -> Cell:
    if len(side.parts) > 1:
        halves = [half_cell(part, space_url, picked=picked) for part in side.parts]
        return Cell(name="", halves=halves, leg=side.parts[0].leg, mark=str(side.spaces[0]))
    part = side.parts[0]
    circuit = part.item
    if circuit is None:
        return Cell(
            name=_("Space"),
            kind="space",
            url=space_url(part.mark),
            mark=part.mark,
            leg=part.leg,
            is_picked=part.mark == picked,
        )
    fed = fed_by(circuit)
    return Cell(
        name=called(circuit),
        amps=circuit.rating_a,
        poles=circuit.poles,
        rows=side.rows,
        kind=KINDS.get(circuit.kind, circuit.kind),
        aside=aside(circuit),
        url=reverse("circuit", args=[circuit.pk]),
        to=fed.name if fed else "",
        to_url=reverse("panel", args=[fed.pk]) if fed else "",
        mark=part.mark,
        leg=part.leg,
    )


def half_cell(
    part: backplate.Part[Circuit], space_url: Callable[[str], str], *, picked: str = ""
) -> HalfCell:
    circuit = part.item
    if circuit is None:
        return HalfCell(
            mark=part.mark[-1],
            place=part.mark,
            name=_("Space"),
            amps=None,
            url=space_url(part.mark),
            is_picked=part.mark == picked,
        )
    beside = _(" (with %(mark)s)") % {"mark": part.beside} if part.beside else ""
    return HalfCell(
        mark=part.mark[-1],
        place=part.mark,
        name=called(circuit) + beside,
        amps=circuit.rating_a,
        url=reverse("circuit", args=[circuit.pk]),
    )


def called(circuit: Circuit) -> str:
    """What stands on the schedule: an unused breaker is a spare (408.4(A))."""
    if circuit.kind != Circuit.Kind.SPARE:
        return circuit.name
    return _("Spare: %(name)s") % {"name": circuit.name} if circuit.name else _("Spare")


def aside(circuit: Circuit) -> str:
    """What else to know about it, in small type under the name."""
    wire = f"{circuit.wire_size} {METALS.get(circuit.wire_material, '')}".strip()
    parts = [
        BRIEF.get(circuit.protection, ""),
        wire,
        _("multiwire %(group)s") % {"group": circuit.multiwire} if circuit.multiwire else "",
        _backup(circuit),
        *(str(source.name) for source in circuit.sources.all() if source.name != circuit.name),
    ]
    return " · ".join(part for part in parts if part)


def _backup(circuit: Circuit) -> str:
    if not circuit.backed_up:
        return ""
    if circuit.shed_order is None:
        return _("backed up")
    return _("backed up, sheds %(order)s") % {"order": circuit.shed_order}
