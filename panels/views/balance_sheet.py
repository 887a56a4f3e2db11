"""What the page of leg balance shows: bars, steps, and the schedule as it is and as it would be."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field

from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.units import Q
from panels.models import Calculation, Circuit, Panel
from panels.rules.balance.breakers import Move
from panels.rules.balance.question import KEY, place, steps_of
from panels.rules.balance.steps import Kind, Step
from panels.rules.quantities import VA, show
from panels.services import balancing
from panels.services.balancing import Proposed
from panels.views import drawn

WIDTH, LEFT, RIGHT, BAR, LEG = 400, 22, 86, 14, 40
MOST = 99


@dataclass(frozen=True, kw_only=True)
class Leg:
    """A leg as it is and as proposed, as numbers and as two bars."""

    name: str
    before: str
    after: str
    y: int
    before_width: int
    after_width: int

    @property
    def after_y(self) -> int:
        return self.y + BAR + 2

    @property
    def before_text(self) -> tuple[int, int]:
        return LEFT + self.before_width + 6, self.y + BAR - 3

    @property
    def after_text(self) -> tuple[int, int]:
        return LEFT + self.after_width + 6, self.after_y + BAR - 3

    @property
    def middle(self) -> int:
        return self.y + BAR + 5


@dataclass(frozen=True, kw_only=True)
class Told:
    """One step as an electrician does it."""

    words: str
    rows: list[tuple[str, str, str]]  # what, from where, to where


@dataclass(frozen=True, kw_only=True)
class Rung:
    moves: int
    least: str
    is_chosen: bool


@dataclass(kw_only=True)
class BalanceSheet:
    """The proposal drawn out; `fault` where there is none."""

    panel: Panel
    most: int | None
    kept: list[Calculation]
    fault: str = ""
    proposed: Proposed | None = None
    legs: list[Leg] = field(default_factory=list)
    steps: list[Told] = field(default_factory=list)
    rungs: list[Rung] = field(default_factory=list)
    now: drawn.Schedule | None = None
    then: drawn.Schedule | None = None
    unrecorded: list[Circuit] = field(default_factory=list)
    locked: list[Circuit] = field(default_factory=list)

    bar, left, width = BAR, LEFT, WIDTH

    @property
    def height(self) -> int:
        return LEG * len(self.legs)

    @property
    def before(self) -> str:
        return _va(self.proposed.told.imbalance_before) if self.proposed else ""

    @property
    def after(self) -> str:
        return _va(self.proposed.told.imbalance) if self.proposed else ""

    @property
    def bound(self) -> str:
        return _va(self.proposed.told.least) if self.proposed else ""

    @property
    def cells(self) -> list[tuple[str, str]]:
        if self.proposed is None:
            return []
        told = self.proposed.told
        return [
            (_("Imbalance now"), self.before),
            (_("Proposed"), self.after),
            (_("Moves"), str(told.moves)),
        ]

    @property
    def words(self) -> str:
        """The picture in a sentence."""
        return "; ".join(
            _("leg %(leg)s %(before)s now, %(after)s proposed")
            % {"leg": leg.name, "before": leg.before, "after": leg.after}
            for leg in self.legs
        )


def most_moves(asked: Mapping[str, str]) -> int | None:
    """How many moves are wanted at most; what is no number asks for as many as help."""
    said = asked.get("moves", "")
    return int(said) if said.isascii() and said.isdigit() and int(said) <= MOST else None


def balance_sheet(panel: Panel, *, most: int | None) -> BalanceSheet:
    made = panel.site.calculations.filter(method=KEY).select_related("made_by")
    sheet = BalanceSheet(panel=panel, most=most, kept=list(made.defer("result", "inputs")[:20]))
    try:
        proposed = balancing.proposed(panel=panel, most_moves=most)
    except Refused as refused:
        sheet.fault = refused.sentence
        return sheet
    told, circuits = proposed.told, proposed.recorded.circuits
    sheet.proposed = proposed
    sheet.legs = _legs(panel, told.before, told.after)
    sheet.steps = [_told(step, circuits) for step in steps_of(proposed.described, told)]
    sheet.rungs = [
        Rung(moves=rung.moves, least=_va(rung.least), is_chosen=rung.moves == most)
        for rung in told.rungs[1 : told.moves + 1]
    ]
    sheet.now = drawn.schedule(panel, drawn.seated(panel, circuits), space_url=lambda _mark: "")
    moved = _moved(proposed)
    sheet.then = drawn.schedule(panel, drawn.seated(panel, moved), space_url=lambda _mark: "")
    for one, breaker in zip(circuits, proposed.described.breakers, strict=True):
        sheet.unrecorded += [one] if breaker.va is None else []
        sheet.locked += [one] if breaker.locked else []
    return sheet


def _moved(proposed: Proposed) -> list[Circuit]:
    """Copies of the circuits in the places proposed, never saved."""
    places = {one.circuit: one for one in proposed.moves}
    found = []
    for circuit in map(copy, proposed.recorded.circuits):
        if place_ := places.get(circuit.pk):
            circuit.space, circuit.half = place_.space, place_.half
        found.append(circuit)
    return found


def _legs(panel: Panel, before: Sequence[float], after: Sequence[float]) -> list[Leg]:
    scale = (WIDTH - LEFT - RIGHT) / max(*before, *after, 1.0)
    return [
        Leg(
            name=name, before=_va(was), after=_va(now), y=LEG * row + 2,
            before_width=round(was * scale), after_width=round(now * scale),
        )
        for row, (name, was, now) in enumerate(
            zip(panel.frame.system.legs, before, after, strict=True)
        )
    ]  # fmt: skip


def _told(step: Step, circuits: Sequence[Circuit]) -> Told:
    words = {
        Kind.MOVE: _("Move"),
        Kind.SWAP: _("Let these change places"),
        Kind.ASIDE: _("Take out and lay aside; it goes in last"),
    }
    return Told(words=words[step.kind], rows=[_row(move, circuits) for move in step.moves])


def _row(move: Move, circuits: Sequence[Circuit]) -> tuple[str, str, str]:
    was = place(move.was) if move.was.poles else _("laid aside")
    one = circuits[move.index]
    name = f"{drawn.called(one)}, {one.rating_a} A"
    return name, was, place(move.now)


def _va(number: float) -> str:
    return show(Q(number, VA))
