"""How large must the standby source be here, by manual and by automatic transfer?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.models import Site
from contractor.units import Q
from panels.models import Source
from panels.rules import questions
from panels.rules.edition import Edition
from panels.rules.quantities import VA
from panels.rules.shop import method as shop
from panels.rules.standby.size_answer import KEY
from panels.rules.standby.sizing import AUTOMATIC, MANUAL
from panels.rules.working import Line, Result
from panels.services import calculations
from panels.services.standby import Standby

MANAGED = "managed"
METHODS = ("optional", "standard")
WAYS_OUT = ("larger", "set_point", "shed_")  # lines of the result


@dataclass(frozen=True, kw_only=True)
class Sized:
    """One source by one kind of transfer: what was given, and the result or why there is none."""

    source: Source
    transfer: str
    inputs: dict[str, Any]
    result: Result | None
    objection: str = ""

    @property
    def key(self) -> str:
        return f"{self.transfer}-{self.source.pk}"

    @property
    def as_recorded(self) -> bool:
        kind = MANUAL if self.transfer == MANUAL else AUTOMATIC
        return self.source.transfer == kind

    @property
    def ways_out(self) -> tuple[Line, ...]:
        lines = self.result.lines if self.result else ()
        return tuple(line for line in lines if line.key.startswith(WAYS_OUT))


def sizings(site: Site, standby: Standby, edition: Edition, *, shed: int) -> list[Sized]:
    """Every source that carries by itself, by each transfer there can be."""
    premises, missing = _premises(site)
    found = []
    for source in standby.sources:
        if source.kind == Source.Kind.SOLAR:
            continue
        given = standby.inputs[source.kind]
        plain = {source.kind: given if isinstance(given, dict) else _named(given, source)}
        loads = [_for_size(row) for row in standby.inputs["loads"] if _stays(row, shed)]
        by_hand = {**plain, "transfer": MANUAL, "loads": loads}
        found.append(_sized(source, MANUAL, by_hand, edition))
        if premises is None:
            found.append(_refused(source, missing))
        else:
            found += _automatic(source, plain, premises, edition)
    return found


def _premises(site: Site) -> tuple[dict[str, Any] | None, str]:
    """The home in plain values, or why there is none; asked once for all sources."""
    try:
        return calculations.inputs_of(site), ""
    except Refused as refusal:
        return None, refusal.sentence


def _automatic(
    source: Source, plain: Mapping[str, Any], premises: Mapping[str, Any], edition: Edition
) -> Iterator[Sized]:
    """The whole calculated load; and what the load management connects, where there is one."""
    base = {**plain, "transfer": AUTOMATIC, "system": premises["service"]["system"]}
    yield _whole(source, {**base, "premises": dict(premises)}, edition)
    if point := premises.get("managed_at"):
        yield _sized(source, MANAGED, {**base, "managed_at": point}, edition)


def _named(given: list[dict[str, Any]], source: Source) -> dict[str, Any]:
    return next(one for one in given if one["name"] == source.name)


def _stays(row: Mapping[str, Any], shed: int) -> bool:
    return row.get("shed_order") is None or row["shed_order"] > shed


def _for_size(row: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in row.items() if name not in ("habit", "share")}


def _whole(source: Source, inputs: dict[str, Any], edition: Edition) -> Sized:
    """By the first load method that fits the home; a shop by its general rules."""
    if "occupancy" in inputs["premises"]:
        return _of_shop(source, inputs, edition)
    tried = [
        _sized(source, AUTOMATIC, {**inputs, "method_of_load": method}, edition)
        for method in METHODS
    ]
    return next((one for one in tried if one.result), tried[0])


def _of_shop(source: Source, inputs: dict[str, Any], edition: Edition) -> Sized:
    premises = inputs.pop("premises")
    try:
        load = Q(questions.answer(shop.KEY, premises, edition).value("load"))
    except Refused as refusal:
        return _refused(source, refusal.sentence)
    stated = {"value": float(load.m_as(VA)), "unit": "VA"}
    inputs |= {"calculated": stated, "calculated_by": shop.TITLE}
    return _sized(source, AUTOMATIC, inputs, edition)


def _refused(source: Source, told: str) -> Sized:
    return Sized(source=source, transfer=AUTOMATIC, inputs={}, result=None, objection=told)


def _sized(source: Source, transfer: str, inputs: dict[str, Any], edition: Edition) -> Sized:
    try:
        result = questions.answer(KEY, inputs, edition)
    except Refused as refusal:
        told = refusal.sentence or _("It cannot be worked out.")
        return Sized(source=source, transfer=transfer, inputs=inputs, result=None, objection=told)
    return Sized(source=source, transfer=transfer, inputs=inputs, result=result)
