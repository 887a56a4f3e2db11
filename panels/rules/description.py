"""How is a dwelling or a building read from a plain description (TOML, JSON, a form)?"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from contractor.units import Q, Quantity
from panels.rules.dwelling import (
    COMPRESSORS,
    COOKING,
    Building,
    Dwelling,
    Kind,
    Load,
    Service,
    Unit,
)
from panels.rules.fields import Fields
from panels.rules.layout import System
from panels.rules.quantities import (
    AMPERE,
    HORSEPOWER,
    VA,
    VOLT,
    WATT,
    apparent_power,
    from_watts,
    read_quantity_any,
    show,
)
from panels.rules.report import Premises
from panels.rules.supply import SUPPLIES

SERVICE_NAMES = {system.value: system for system in System}
RESISTIVE = COOKING | {
    Kind.DRYER, Kind.WATER_HEATER, Kind.HEATING, Kind.THERMAL_STORAGE, Kind.SUPPLEMENT,
}  # fmt: skip
BETWEEN_LEGS = RESISTIVE | COMPRESSORS | {Kind.VEHICLE}


def from_plain(plain: Mapping[str, Any]) -> Premises:
    """A `Building` where ``units`` are described, else a `Dwelling`.

    Raises `BadDescription` naming the field and saying what to write there.
    """
    fields = Fields(plain=plain)
    return _building(fields) if "units" in fields.plain else _dwelling(fields)


def _dwelling(fields: Fields) -> Dwelling:
    dwelling = _described(fields, _service(fields, feeder=False))
    fields.done()
    return dwelling


def _described(fields: Fields, service: Service) -> Dwelling:
    return fields.build(
        Dwelling,
        floor_area=fields.quantity("floor_area", unit="ft**2", example="1500 ft2"),
        small_appliance_circuits=fields.count("small_appliance_circuits"),
        laundry_circuits=fields.count("laundry_circuits"),
        loads=tuple(load_from(row, service) for row in fields.tables("loads")),
        service=service,
        managed_at=_managed_at(fields, service),
    )


def _building(fields: Fields) -> Building:
    service = _service(fields, feeder=True)
    building = fields.build(
        Building,
        units=tuple(_unit(row, service) for row in fields.tables("units")),
        house_loads=tuple(load_from(row, service) for row in fields.tables("house_loads")),
        service=service,
    )
    fields.done()
    return building


def _unit(row: Fields, service: Service) -> Unit:
    """So many dwellings of one kind; they take the building's voltages."""
    count, name = row.count("count", least=1), row.text("name")
    unit = Unit(count=count, name=name, dwelling=_described(row, service))
    row.done()
    return unit


def _service(fields: Fields, *, feeder: bool) -> Service:
    if fields.get("service") is None:
        return Service(feeder=feeder)
    given = Fields(plain=fields.get("service"), path=fields.at("service"))
    name = given.text("system", System.SPLIT_240.value)
    if name not in SERVICE_NAMES:
        known = ", ".join(f'"{system.value}" ({system.label})' for system in SUPPLIES)
        raise given.fault("system", f"{name!r} is not known. Choose one of {known}.")
    service = given.build(
        Service,
        system=SERVICE_NAMES[name],
        rating=given.maybe("rating", unit="A", example="200 A"),
        feeder=given.yes("feeder") or feeder,
    )
    given.done()
    return service


def _managed_at(fields: Fields, service: Service) -> Quantity | None:
    given = fields.get("managed_at")
    if given is None:
        return None
    point = read_quantity_any(given, field=fields.at("managed_at"), example="40 A")
    if point.is_compatible_with(AMPERE):
        return apparent_power(current=point, volts=service.supply.line)
    if point.is_compatible_with(VA):
        return point.to(VA)
    raise fields.fault("managed_at", f'{show(point)} is neither A nor VA. Write e.g. "40 A".')


def load_from(row: Fields, service: Service) -> Load:
    """One load from its table. `row` keeps the place, so a fault names it."""
    kind = _kind(row)
    volts = _volts(row, kind, service)
    apparent, current = _nameplate(row, kind, volts)
    load = row.build(
        Load,
        kind=kind,
        name=row.text("name") or kind.label.capitalize(),
        apparent=apparent,
        current=current,
        volts=volts,
        count=row.count("count", least=1, default=1),
        leg=_leg(row, service),
        motor=row.yes("motor"),
        horsepower=row.number("horsepower"),
        controlled_separately=row.yes("controlled_separately"),
        locked_out=row.yes("locked_out"),
        continuous=row.yes("continuous"),
        managed=row.yes("managed"),
        new=row.yes("new"),
    )
    row.done()
    return load


def _kind(row: Fields) -> Kind:
    given = row.need("kind", '"range"')
    try:
        return Kind(given)
    except ValueError:
        known = ", ".join(kind.value for kind in Kind)
        raise row.fault("kind", f"{given!r} is not known. Choose one of {known}.") from None


def _volts(row: Fields, kind: Kind, service: Service) -> Quantity:
    given = row.get("volts")
    if given is None and kind in BETWEEN_LEGS:
        return service.supply.line
    if isinstance(given, int | float) and not isinstance(given, bool) and given > 0:
        return Q(float(given), VOLT)
    volts = row.quantity("volts", unit="V", example="120 V")
    return volts.to(VOLT)


def _leg(row: Fields, service: Service) -> str:
    leg = row.text("leg").upper()
    legs = service.supply.system.legs
    if leg and leg not in legs:
        raise row.fault("leg", f"{leg!r} is not one of the legs {', '.join(legs)}.")
    return leg


def _nameplate(row: Fields, kind: Kind, volts: Quantity) -> tuple[Quantity | None, Quantity | None]:
    """The nameplate in VA, and in amperes where it is given so.

    Watts are taken as VA only where a power factor says so; for resistance heating and household
    cooking and drying, where the code equates them (220.54, 220.55), it is one.
    """
    given, power_factor = row.get("nameplate"), row.number("power_factor")
    if given is None and kind is Kind.VEHICLE:
        return None, None
    row.need("nameplate", '"1200 VA"')
    rating = read_quantity_any(given, field=row.at("nameplate"), example="1200 VA")
    if rating.is_compatible_with(VA):
        return rating.to(VA), None
    if rating.is_compatible_with(AMPERE):
        return apparent_power(current=rating, volts=volts), rating.to(AMPERE)
    if rating.units == HORSEPOWER:
        raise row.fault(
            "nameplate",
            f"{show(rating)} is what the shaft gives. Give the nameplate in A or VA, and"
            f" horsepower = {rating.magnitude:g} beside it.",
        )
    if not rating.is_compatible_with(WATT):
        raise row.fault("nameplate", f"{show(rating)} is not a load. Write VA, kVA, A or kW.")
    if power_factor is None and kind not in RESISTIVE:
        raise row.fault(
            "nameplate",
            f"{show(rating)} is real power. Give the nameplate in VA or A, or add power_factor"
            " (1.0 for a resistance).",
        )
    factor = 1.0 if power_factor is None else power_factor
    return row.build(from_watts, real=rating, power_factor=factor), None
