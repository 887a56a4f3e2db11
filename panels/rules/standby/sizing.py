"""What is asked when a standby source is sized: the source, its transfer, what it carries?"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from contractor.units import Q, Quantity
from panels.rules import description
from panels.rules.errors import BadDescription
from panels.rules.fields import Fields
from panels.rules.layout import System
from panels.rules.methods import METHODS
from panels.rules.quantities import AMPERE, VA, VOLT, apparent_power, read_quantity_any, show
from panels.rules.report import Premises
from panels.rules.standby.description import load_from
from panels.rules.standby.equipment import generator_from, storage_from
from panels.rules.standby.loads import Load
from panels.rules.standby.sources import Generator, Storage
from panels.rules.supply import Supply, supply_of

MANUAL, AUTOMATIC = "manual", "automatic"


@dataclass(frozen=True, kw_only=True)
class Sizing:
    """A source, how it is transferred, and what it has to carry.

    `chosen` is what is meant to run at one time (manual transfer). `calculated` (VA) is the load
    by the load method `calculated_by`, `premises` what it is calculated from here by `method`.
    `managed_at` (VA) is the most the load management connects.
    """

    source: Generator | Storage
    transfer: str
    supply: Supply
    chosen: tuple[Load, ...] = ()
    calculated: Quantity | None = None
    premises: Premises | None = None
    method: str = "optional"
    calculated_by: str = ""
    managed_at: Quantity | None = None

    def __post_init__(self) -> None:
        if self.method not in METHODS:
            told = f"{self.method!r} is not known. Choose {', '.join(METHODS)}."
            raise BadDescription("method_of_load", told)
        if self.transfer not in (MANUAL, AUTOMATIC):
            raise BadDescription("transfer", 'must be "manual" or "automatic".')
        if self.transfer == MANUAL and not self.chosen:
            raise BadDescription("loads", "is missing. List what is meant to run at one time.")
        known = (self.managed_at, self.calculated, self.premises)
        if self.transfer == AUTOMATIC and known == (None, None, None):
            told = "is missing. Give the calculated load in VA, the premises, or managed_at."
            raise BadDescription("calculated", told)

    @property
    def capacity(self) -> float:
        """VA the source gives without a pause; an inverter's W at a power factor of one."""
        if isinstance(self.source, Generator):
            return self.source.apparent
        return self.source.inverter


def sizing_from(plain: Mapping[str, Any]) -> Sizing:
    """Fields: ``transfer`` ("manual", "automatic"), ``generator`` or ``storage``, ``system``,
    ``loads`` (manual), ``calculated`` with ``calculated_by`` or ``premises`` with
    ``method_of_load`` (automatic), ``managed_at`` (A or VA; automatic with load management)."""
    fields = Fields(plain=plain)
    supply = _system(fields)
    premises = fields.get("premises")
    sizing = fields.build(
        Sizing,
        source=_source(fields),
        transfer=fields.text("transfer", MANUAL),
        supply=supply,
        chosen=tuple(load_from(row) for row in fields.tables("loads")),
        calculated=fields.maybe("calculated", unit="VA", example="24 kVA"),
        premises=None if premises is None else description.from_plain(premises),
        method=fields.text("method_of_load", "optional"),
        calculated_by=fields.text("calculated_by"),
        managed_at=_managed_at(fields, supply),
    )
    fields.done()
    return sizing


def _system(fields: Fields) -> Supply:
    name = fields.text("system", System.SPLIT_240.value)
    try:
        return supply_of(System(name))
    except ValueError:
        raise fields.fault("system", f'{name!r} is not known. Write e.g. "1ph-240".') from None


def _source(fields: Fields) -> Generator | Storage:
    generator, storage = fields.get("generator"), fields.get("storage")
    if (generator is None) == (storage is None):
        raise fields.fault("generator", "Describe one source: a generator or storage.")
    if generator is not None:
        return generator_from(Fields(plain=generator, path=fields.at("generator")))
    return storage_from(Fields(plain=storage, path=fields.at("storage")))


def _managed_at(fields: Fields, supply: Supply) -> Quantity | None:
    given = fields.get("managed_at")
    if given is None:
        return None
    point = read_quantity_any(given, field=fields.at("managed_at"), example="40 A")
    if point.is_compatible_with(AMPERE):
        return Q(volt_amperes(point.m_as(AMPERE), supply), VA)
    if point.is_compatible_with(VA):
        return point.to(VA)
    raise fields.fault("managed_at", f'{show(point)} is neither A nor VA. Write e.g. "40 A".')


def amperes(volt_amperes: float, supply: Supply) -> float:
    """The current per leg of a load spread evenly over the legs."""
    nothing = Q(0.0, VA)
    found = supply.amperes(between_legs=Q(volt_amperes, VA), to_neutral=nothing)
    return round(float(found.m_as(AMPERE)), 6)


def volt_amperes(amperes: float, supply: Supply) -> float:
    across = apparent_power(current=Q(amperes, AMPERE), volts=Q(supply.line.m_as(VOLT), VOLT))
    return float(across.m_as(VA)) * (math.sqrt(3) if supply.phases == 3 else 1.0)
