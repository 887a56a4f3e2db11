"""How large must the standby source be here, by manual and by automatic transfer?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.models import Site
from panels.models import Source
from panels.rules import questions
from panels.rules.edition import Edition
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
    found = []
    for source in standby.sources:
        if source.kind != Source.Kind.SOLAR:
            found += list(_of(site, source, standby, edition, shed))
    return found


def _of(
    site: Site, source: Source, standby: Standby, edition: Edition, shed: int
) -> Iterator[Sized]:
    given = standby.inputs[source.kind]
    plain = given if isinstance(given, dict) else _named(given, source)
    base = {source.kind: plain}
    loads = [_for_size(row) for row in standby.inputs["loads"] if _stays(row, shed)]
    yield _sized(source, MANUAL, {**base, "transfer": MANUAL, "loads": loads}, edition)
    home = getattr(site, "home", None)
    try:
        premises = calculations.inputs_of(site)
    except Refused as refusal:
        told = refusal.sentence
        yield Sized(source=source, transfer=AUTOMATIC, inputs={}, result=None, objection=told)
        return
    whole = {**base, "transfer": AUTOMATIC, "system": premises["service"]["system"]}
    yield _whole(source, {**whole, "premises": premises}, edition)
    if home is not None and home.managed_a:
        point = {"value": home.managed_a, "unit": "A"}
        yield _sized(source, MANAGED, {**whole, "managed_at": point}, edition)


def _named(given: list[dict[str, Any]], source: Source) -> dict[str, Any]:
    return next(one for one in given if one["name"] == source.name)


def _stays(row: Mapping[str, Any], shed: int) -> bool:
    return row.get("shed_order") is None or row["shed_order"] > shed


def _for_size(row: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in row.items() if name not in ("habit", "share")}


def _whole(source: Source, inputs: dict[str, Any], edition: Edition) -> Sized:
    """By the first load method that fits the home."""
    tried = [
        _sized(source, AUTOMATIC, {**inputs, "method_of_load": method}, edition)
        for method in METHODS
    ]
    return next((one for one in tried if one.result), tried[0])


def _sized(source: Source, transfer: str, inputs: dict[str, Any], edition: Edition) -> Sized:
    try:
        result = questions.answer(KEY, inputs, edition)
    except Refused as refusal:
        told = refusal.sentence or _("It cannot be worked out.")
        return Sized(source=source, transfer=transfer, inputs=inputs, result=None, objection=told)
    return Sized(source=source, transfer=transfer, inputs=inputs, result=result)
