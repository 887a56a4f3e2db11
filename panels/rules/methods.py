"""Which ways of calculating a load are there, and which of them fit these premises?"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from panels.rules import (
    cooking_circuit,
    existing,
    multifamily,
    optional,
    parts,
    standard,
    two_family,
)
from panels.rules.coincidence import coincident
from panels.rules.dwelling import Building, Dwelling
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription
from panels.rules.report import Premises
from panels.rules.working import Result

WRONG_SHAPE = {
    Dwelling: "It is for one dwelling; this is a building of several.",
    Building: "It is for a building of several dwellings; this is one dwelling.",
}


def _no_objection(_premises: Any, _edition: Edition) -> str | None:
    return None


@dataclass(frozen=True, kw_only=True)
class Method:
    """A way of calculating: what it takes, what it refuses, and the calculation."""

    key: str
    title: str
    calculate: Callable[[Any, Edition], Result]
    takes: type[Dwelling] | type[Building] | None = None
    objection: Callable[[Any, Edition], str | None] = _no_objection

    def applies(self, premises: Premises, edition: Edition) -> str | None:
        """Why this method does not fit the premises, in a sentence; None where it does."""
        if self.takes and not isinstance(premises, self.takes):
            return WRONG_SHAPE[self.takes]
        return self.objection(premises, edition)


METHODS: dict[str, Method] = {
    method.key: method
    for method in (
        Method(key=standard.KEY, title=standard.TITLE, calculate=standard.standard),
        Method(
            key=optional.KEY,
            title=optional.TITLE,
            calculate=optional.optional,
            takes=Dwelling,
            objection=optional.objection,
        ),
        Method(
            key=existing.KEY,
            title=existing.TITLE,
            calculate=existing.existing,
            takes=Dwelling,
            objection=existing.objection,
        ),
        Method(
            key=multifamily.KEY,
            title=multifamily.TITLE,
            calculate=multifamily.multifamily,
            takes=Building,
            objection=multifamily.objection,
        ),
        Method(
            key=two_family.KEY,
            title=two_family.TITLE,
            calculate=two_family.two_family,
            takes=Building,
            objection=two_family.objection,
        ),
    )
}


PARTS: dict[str, Method] = {
    method.key: method
    for method in (
        Method(key="cooking", title="Household cooking alone", calculate=parts.cooking),
        Method(
            key=cooking_circuit.KEY,
            title=cooking_circuit.TITLE,
            calculate=cooking_circuit.cooking_circuit,
        ),
        Method(key="dryers", title="Clothes dryers alone", calculate=parts.dryers),
        Method(key="lighting", title="Lighting and circuits alone", calculate=parts.lighting),
    )
}


def calculate(method: str, premises: Premises, edition: Edition) -> Result:
    """The premises by that method and edition. Raises `BadDescription` where it does not fit."""
    known = METHODS | PARTS
    if method not in known:
        raise BadDescription("method", f"{method!r} is not known. Choose {', '.join(known)}.")
    chosen = known[method]
    if reason := chosen.applies(premises, edition):
        raise BadDescription("method", reason)
    return coincident(premises, edition, chosen.calculate)
