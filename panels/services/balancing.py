"""Propose where the breakers of a panel would sit better, and write down that they were moved."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, NamedTuple
from uuid import UUID

from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.history import recorded
from contractor.models import Person
from panels.models import Calculation, Circuit, Panel
from panels.queries import balance
from panels.rules.balance import Proposal, propose
from panels.rules.balance.question import KEY
from panels.rules.balance.read import Panel as Described
from panels.rules.balance.read import panel_from
from panels.services import calculations
from panels.services.circuits import save_seated
from panels.services.guards import lock_panel
from panels.services.seating import take_seat


class Moved(NamedTuple):
    """A circuit at a revision, and the place it is to have."""

    circuit: UUID
    rev: int
    space: int
    half: str


@dataclass(frozen=True, kw_only=True)
class Proposed:
    """A proposal beside the record it was made from."""

    recorded: balance.Recorded
    described: Described
    told: Proposal

    @property
    def moves(self) -> list[Moved]:
        """What `make_moves` takes: only those that change their place."""
        return [
            Moved(one.pk, one.rev, move.now.poles[0].space, _half(one, move.now.poles[0].half))
            for move in self.told.moved
            for one in [self.recorded.circuits[move.index]]
        ]


def _half(circuit: Circuit, half: Any) -> str:
    return half.value if half else ""


def proposed(*, panel: Panel, most_moves: int | None = None) -> Proposed:
    """The places that leave the legs most alike. Raises Refused where nothing can be said: no
    breaker on record, or no arrangement that keeps the rules."""
    found = balance.recorded(panel, most_moves=most_moves)
    if not found.circuits:
        raise Refused("no_breakers", _("Record the breakers of this panel first."))
    described = panel_from(found.inputs)
    told = propose(described.frame, described.breakers, most_moves=most_moves)
    return Proposed(recorded=found, described=described, told=told)


def keep_balance(
    *, panel: Panel, by: Person, now: dt.datetime, most_moves: int | None = None, **said: Any
) -> Calculation:
    """The proposal as it stands, kept and never altered. `said` is what `calculations.keep` takes
    besides: on, edition, stated_by, purpose."""
    inputs = balance.recorded(panel, most_moves=most_moves).inputs
    return calculations.keep(
        site=panel.site, method=KEY, inputs=inputs, by=by, now=now, **said
    )  # fmt: skip


@recorded
def make_moves(*, panel: Panel, moves: Iterable[Moved], by: Person) -> list[Moved]:
    """Give each breaker its new place, all or none. Answers what takes it back: the same moves the
    other way round, at the revisions they have now.

    Raises Stale when one was changed meanwhile, and Refused when it is gone or a space is taken.
    """
    panel = lock_panel(panel)
    wanted = {move.circuit: move for move in moves}
    here = list(panel.circuits.select_for_update(no_key=True))
    moving = [one for one in here if one.pk in wanted]
    if len(moving) < len(wanted):
        raise Refused("gone", _("A breaker was taken out meanwhile. Look at the panel again."))
    before = {one.pk: (one.space, one.half) for one in moving}
    for one in moving:
        one.require_rev(wanted[one.pk].rev)
        one.space, one.half = wanted[one.pk].space, wanted[one.pk].half
    settled = [one for one in here if one.pk not in wanted]
    for one in moving:
        take_seat(one, panel=panel, others=settled)
        settled.append(one)
    save_seated(panel, *moving)
    return [Moved(one.pk, one.rev, *before[one.pk]) for one in moving]
