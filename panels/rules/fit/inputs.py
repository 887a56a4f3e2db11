"""What has to be known before it can be said whether an addition fits, and how is it read?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, TypeAlias

from contractor.units import Q, Quantity
from panels.rules import description
from panels.rules.dwelling import COOKING, Building, Dwelling, Load
from panels.rules.errors import BadDescription
from panels.rules.fields import Fields
from panels.rules.metered_given import Recording, read_recording
from panels.rules.quantities import AMPERE, VA, apparent_power, va
from panels.rules.shop.description import read_shop
from panels.rules.shop.premises import KINDS, Shop

Where: TypeAlias = Dwelling | Building | Shop


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """The premises as they are with the rating they have, and one load to be added.

    `metered` is what the meter recorded, where that is known.
    """

    premises: Where
    addition: Load
    metered: Recording | None = None

    @property
    def rating(self) -> Quantity:
        return self.premises.service.rating or Q(0.0, AMPERE)

    @property
    def line_volts(self) -> Quantity:
        return self.premises.service.supply.line

    def amperes(self, load: Load) -> float:
        """The nameplate between legs, as a set point is counted."""
        return load.all / self.va_of(1.0)

    def va_of(self, amperes: float) -> float:
        """So many amperes between the legs the addition stands on."""
        current = Q(amperes, AMPERE)
        phases = self.addition.phases
        return float(apparent_power(current=current, volts=self.line_volts, phases=phases).m_as(VA))

    def with_load(self, load: Load | None) -> Where:
        """The premises with that load, or without any."""
        if load is None:
            return self.premises
        if isinstance(self.premises, Building):
            return replace(self.premises, house_loads=(*self.premises.house_loads, load))
        return replace(self.premises, loads=(*self.premises.loads, load))

    def held_at(self, premises: Dwelling | Shop, amperes: float) -> Where:
        """The premises with the addition held down; beside what is held down already."""
        already = premises.managed_at
        point = self.va_of(amperes) + (0.0 if already is None else float(already.m_as(VA)))
        held = replace(self.addition, managed=True, one_of="")
        return replace(premises, loads=(*premises.loads, held), managed_at=va(point))


def read(plain: Mapping[str, Any]) -> Proposal:
    """From ``{"premises": {...}, "addition": {...}, "metered": {...}}``; the last may be absent.

    `premises` are a dwelling, a building or a shop (with ``occupancy``), with the rating of what
    feeds them; `metered` as `panels.rules.metered_given` reads it. Raises `BadDescription`.
    """
    fields = Fields(plain=plain)
    premises = _premises(fields)
    if premises.service.rating is None:
        raise fields.fault(
            "premises.service.rating", 'is missing. Write e.g. rating = "100 A": what is there now.'
        )
    given = fields.need("addition", '{ kind = "vehicle", nameplate = "48 A" }')
    kinds = KINDS | COOKING if isinstance(premises, Shop) else description.DWELLING_KINDS
    row = Fields(plain=given, path="addition")
    addition = description.load_from(row, premises.service, kinds=kinds)
    proposal = Proposal(
        premises=premises,
        addition=replace(addition, new=True, managed=False),
        metered=_metered(fields, premises),
    )
    fields.done()
    return proposal


def _premises(fields: Fields) -> Where:
    given = fields.need("premises", "{ floor_area = ..., service = { rating = ... } }")
    if not isinstance(given, Mapping):
        raise fields.fault("premises", "must be a table of named fields.")
    try:
        return read_shop(given) if "occupancy" in given else description.from_plain(given)
    except BadDescription as fault:
        raise fields.fault(f"premises.{fault.field}", fault.fields[fault.field]) from None


def _metered(fields: Fields, premises: Where) -> Recording | None:
    """As the metered method takes it; what feeds the premises need not be said again."""
    given = fields.get("metered")
    if given in (None, ""):
        return None
    if not isinstance(given, Mapping):
        raise fields.fault("metered", "must be a table of named fields.")
    system = {"system": premises.service.system.value}
    try:
        recording = read_recording({"service": system, **given})
    except BadDescription as fault:
        raise fields.fault(f"metered.{fault.field}", fault.fields[fault.field]) from None
    return replace(recording, service=premises.service)
