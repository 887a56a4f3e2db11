"""One turn of recording a panel: the space it is about, what fits there, what it may be called."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from contractor.errors import Refused
from panels.models import Circuit, Panel
from panels.queries import records
from panels.queries.glance import second_look
from panels.queries.names import own_names
from panels.rules.check.outcome import Finding
from panels.rules.filling import Fit, Size, fits, next_place
from panels.rules.layout import Half
from panels.rules.names import Common, best_first, offered
from panels.rules.places import read_place
from panels.views import drawn

BY_NUMBER = "number"


@dataclass(frozen=True, kw_only=True)
class Turn:
    """`space` is None when the panel is full. `last` is what was put in just now."""

    panel: Panel
    found: drawn.Seated
    space: int | None
    half: Half | None
    fits: list[Fit]
    order: str
    last: Circuit | None = None

    @property
    def mark(self) -> str:
        """The space as written: 5, or 5b."""
        return f"{self.space or ''}{self.half.value if self.half else ''}"

    @property
    def url(self) -> str:
        return reverse("panel-record", args=[self.panel.pk])

    @property
    def columns(self) -> list[list[drawn.Cell]]:
        return drawn.columns(self.panel, self.found, space_url=self.space_url, picked=self.mark)

    def space_url(self, mark: str) -> str:
        return f"{self.url}?space={mark}&order={self.order}"

    @property
    def free(self) -> int:
        used = {space for _circuit, seat in self.found for space in seat.spaces}
        return self.panel.spaces - len(used)

    @property
    def last_seat(self) -> str:
        return self.last.seat_in(self.panel.frame).text if self.last else ""

    @property
    def notices(self) -> list[Finding]:
        """About what was put in just now."""
        if self.last is None:
            return []
        told = second_look(self.panel, [self.last])
        return [notice for circuit, notice in told if circuit]

    def names(self, *, rating_a: int, poles: int) -> list[Common]:
        """Every name to offer, those for this breaker first."""
        all_names = offered([circuit.name for circuit, _seat in self.found], own_names())
        return best_first(all_names, rating_a=rating_a, poles=poles)


def turn_at(panel: Panel, *, asked: str = "", last: Circuit | None = None, order: str = "") -> Turn:
    """The turn at the space `asked` for, else at the one that comes after `last`."""
    frame = panel.frame
    found = drawn.seated(panel, list(records.circuits_of(panel)))
    taken = [seat for _circuit, seat in found]
    after = last.seat_in(frame) if last else None
    where = _asked(panel, asked) or next_place(
        frame, taken, after=after, by_number=order == BY_NUMBER
    )
    space, half = where or (None, None)
    return Turn(
        panel=panel,
        found=found,
        space=space,
        half=half,
        fits=fits(frame, taken, space=space, half=half) if space else [],
        order=order,
        last=last,
    )


def _asked(panel: Panel, text: str) -> tuple[int, Half | None] | None:
    if not text:
        return None
    try:
        place = read_place(panel.frame, text)
    except Refused:
        return None
    return place.space, place.half


def first_guess(turn: Turn) -> dict[str, Any]:
    """What to have chosen already: as the breaker before it, where that fits."""
    guess: dict[str, Any] = {"space": turn.space, "half": turn.half.value if turn.half else ""}
    last = turn.last
    if last is not None:
        guess |= {"size": size_of(last).value, "rating": str(last.rating_a)}
    if turn.half:
        guess["size"] = Size.TANDEM.value
    fitting = {fit.size.value for fit in turn.fits if fit.seat}
    if guess.get("size", Size.ONE.value) not in fitting and fitting:
        guess["size"] = next(fit.size.value for fit in turn.fits if fit.seat)
    return guess


def size_of(circuit: Circuit) -> Size:
    if circuit.half:
        return Size.TANDEM if circuit.poles == 1 else Size.QUAD
    return Size(str(circuit.poles))
