"""By which methods can it be asked whether an addition fits, and what does each leave?"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from contractor.units import Quantity
from panels.rules import metered
from panels.rules.dwelling import Building, Dwelling, Kind, Load
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.fit.inputs import Proposal, Where
from panels.rules.metered_given import Recording
from panels.rules.methods import METHODS, Method
from panels.rules.methods import calculate as by_method
from panels.rules.quantities import AMPERE, va
from panels.rules.shop import method as shop
from panels.rules.shop.premises import Shop
from panels.rules.vehicles import rated
from panels.rules.working import Result


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """What a method gives: the load, what the rating has to carry, and the rating it asks for.

    `confirm` is what its values behind them ask the reader to look up.
    """

    load: Quantity
    needed: Quantity
    rating: Quantity
    left: float
    confirm: tuple[str, ...]

    @property
    def fits(self) -> bool:
        return self.left >= -1e-9


@dataclass(frozen=True, kw_only=True)
class Way:
    """A method that applies: what it gives with a load added, held down, or with none.

    `objection` says why it does not apply; then nothing may be asked of it.
    """

    key: str
    title: str
    with_load: Callable[[Load | None], Outcome]
    held_at: Callable[[float], Outcome] | None
    objection: str = ""


def ways(proposal: Proposal, edition: Edition) -> Iterator[Way]:
    """Every method, those that do not fit with their reason."""
    if isinstance(proposal.premises, Shop):
        yield _way(shop.KEY, shop.TITLE, proposal, lambda where: shop.shop(where, edition), edition)
    else:
        for method in METHODS.values():
            if method.takes is None or isinstance(proposal.premises, method.takes):
                yield _by(method, proposal, edition)
    if proposal.metered is not None:
        yield _metered(proposal, proposal.metered, edition)


def _by(method: Method, proposal: Proposal, edition: Edition) -> Way:
    def work(where: Where) -> Result:
        return by_method(method.key, where, edition)  # type: ignore[arg-type]

    return _way(method.key, method.title, proposal, work, edition)


def _way(
    key: str, title: str, proposal: Proposal, work: Callable[..., Result], edition: Edition
) -> Way:
    def outcome(where: Where) -> Outcome:
        return _outcome(work(where), proposal)

    objection = ""
    try:
        outcome(proposal.with_load(proposal.addition))
    except (BadDescription, NotCovered) as fault:
        objection = next(iter((fault.fields or {}).values()), fault.sentence)
    held_at = None
    if not isinstance(proposal.premises, Building):
        held_at = partial(_held, proposal, proposal.premises, outcome)
    return Way(
        key=key,
        title=title,
        with_load=lambda load: outcome(proposal.with_load(load)),
        held_at=held_at,
        objection=objection,
    )


def _held(
    proposal: Proposal,
    premises: Dwelling | Shop,
    outcome: Callable[[Where], Outcome],
    amperes: float,
) -> Outcome:
    return outcome(proposal.held_at(premises, amperes))


def _outcome(result: Result, proposal: Proposal) -> Outcome:
    left = float(result.value("left").m_as(AMPERE))  # type: ignore[union-attr]
    return Outcome(
        load=result.value("load"),  # type: ignore[arg-type]
        needed=proposal.rating - result.value("left"),
        rating=result.value("rating"),  # type: ignore[arg-type]
        left=left,
        confirm=result.confirm,
    )


def _metered(proposal: Proposal, recording: Recording, edition: Edition) -> Way:
    """What the meter recorded, with the addition as the new load (220.87)."""

    def outcome(*loads: Load) -> Outcome:
        new = (*recording.new_loads, *loads)
        return _outcome(metered.metered(replace(recording, new_loads=new), edition), proposal)

    def held(amperes: float) -> Outcome:
        addition = rated(proposal.addition, edition)
        point = min(addition.all, proposal.va_of(amperes))
        standing = replace(addition, kind=Kind.OTHER, apparent=va(point), count=1, current=None)
        return outcome(standing)

    objection = ""
    try:
        outcome(proposal.addition)
    except (BadDescription, NotCovered) as fault:
        objection = fault.sentence
    return Way(
        key=metered.KEY,
        title=metered.TITLE,
        with_load=lambda load: outcome(*([] if load is None else [load])),
        held_at=held,
        objection=objection,
    )
