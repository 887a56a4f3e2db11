"""How is a small shop read from a plain description (TOML, JSON, a form)?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from panels.rules.description import load_from, managed_at, service_from
from panels.rules.dwelling import COOKING, Load, Service
from panels.rules.fields import Fields
from panels.rules.layout import System
from panels.rules.shop.premises import KINDS, LENGTHS, NO_LENGTH, Occupancy, Shop
from panels.rules.supply import ALL_SUPPLIES


def read_shop(plain: Mapping[str, Any]) -> Shop:
    """A `Shop`; faults are `BadDescription` naming the field and saying what to write there."""
    fields = Fields(plain=plain)
    service = service_from(fields, supplies=ALL_SUPPLIES)
    loads = tuple(_load(row, service) for row in fields.tables("loads"))
    lengths = {
        name: fields.maybe(name, unit="ft", example="20 ft") or NO_LENGTH for name in LENGTHS
    }
    shop = fields.build(
        Shop,
        occupancy=_occupancy(fields),
        floor_area=fields.quantity("floor_area", unit="ft**2", example="3000 ft2"),
        lighting=fields.maybe("lighting", unit="VA", example="8500 VA"),
        receptacles=fields.count("receptacles", default=0),
        signs=fields.count("signs", default=1),
        loads=loads,
        service=service,
        managed_at=managed_at(fields, service, phases=_phases_held(loads)),
        **lengths,
    )
    fields.done()
    return shop


def _occupancy(fields: Fields) -> Occupancy:
    given = fields.need("occupancy", '"store"')
    try:
        return Occupancy(given)
    except ValueError:
        known = ", ".join(occupancy.value for occupancy in Occupancy)
        told = f"{given!r} is not known. Choose the one that comes nearest: {known}."
        raise fields.fault("occupancy", told) from None


def _load(row: Fields, service: Service) -> Load:
    """A load; on 480Y/277 V one of a lower voltage stands behind a transformer, between legs."""
    load = load_from(row, service, kinds=KINDS | COOKING)
    if service.system is not System.WYE_480 or load.high:
        return load
    return replace(load, volts=service.supply.line, current=None)


def _phases_held(loads: tuple[Load, ...]) -> int:
    """Amperes of a set point are on three legs where only three-phase equipment is held down."""
    held = [load.phases for load in loads if load.managed]
    return min(held, default=1)
