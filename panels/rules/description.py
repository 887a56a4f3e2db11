"""How is a dwelling or a building read from a plain description (TOML, JSON, a form)?"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from contractor.units import Quantity
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

RESISTIVE = COOKING | {
    Kind.DRYER, Kind.WATER_HEATER, Kind.HEATING, Kind.THERMAL_STORAGE, Kind.SUPPLEMENT,
}  # fmt: skip
DWELLING_KINDS = frozenset(Kind) - {Kind.KITCHEN}
BETWEEN_LEGS = RESISTIVE | COMPRESSORS | {Kind.VEHICLE}


def from_plain(plain: Mapping[str, Any]) -> Premises:
    """A `Building` where ``units`` are described, else a `Dwelling`.

    Raises `BadDescription` naming the field and saying what to write there.
    """
    fields = Fields(plain=plain)
    return _building(fields) if "units" in fields.plain else _dwelling(fields)


def _dwelling(fields: Fields) -> Dwelling:
    dwelling = _described(fields, service_from(fields))
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
        managed_at=managed_at(fields, service),
    )


def _building(fields: Fields) -> Building:
    service = service_from(fields, feeder=True)
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


def service_from(
    fields: Fields, *, feeder: bool = False, supplies: Iterable[System] = SUPPLIES
) -> Service:
    """What feeds the premises, by one of those `supplies`; 120/240 V where nothing is said."""
    if fields.get("service") is None:
        return Service(feeder=feeder)
    given = Fields(plain=fields.get("service"), path=fields.at("service"))
    name = given.text("system", System.SPLIT_240.value)
    if name not in {system.value for system in supplies}:
        known = ", ".join(f'"{system.value}" ({system.label})' for system in supplies)
        told = (
            "does not feed dwellings" if name in {one.value for one in System} else "is not known"
        )
        raise given.fault("system", f"{name!r} {told}. Choose one of {known}.")
    service = given.build(
        Service,
        system=System(name),
        rating=given.maybe("rating", unit="A", example="200 A"),
        feeder=given.yes("feeder") or feeder,
    )
    given.done()
    return service


def managed_at(fields: Fields, service: Service, *, phases: int = 1) -> Quantity | None:
    """The set point of the energy management in VA; amperes are those of that many phases."""
    given = fields.get("managed_at")
    if given is None:
        return None
    point = read_quantity_any(given, field=fields.at("managed_at"), example="40 A")
    if point.is_compatible_with(AMPERE):
        return apparent_power(current=point, volts=service.supply.line, phases=phases)
    if point.is_compatible_with(VA):
        return point.to(VA)
    raise fields.fault("managed_at", f'{show(point)} is neither A nor VA. Write e.g. "40 A".')


def load_from(row: Fields, service: Service, *, kinds: frozenset[Kind] = DWELLING_KINDS) -> Load:
    """One load from its table. `row` keeps the place, so a fault names it."""
    kind = _kind(row, kinds)
    phases = _phases(row, service)
    volts = _volts(row, kind, service)
    apparent, current = _nameplate(row, kind, volts, phases)
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
        one_of=row.text("one_of"),
        phases=phases,
    )
    if load.high and service.system is not System.WYE_480:
        told = f"{show(volts)} is neither a voltage to neutral nor between legs of"
        raise row.fault("volts", f"{told} {service.system.label}.")
    row.done()
    return load


def _kind(row: Fields, kinds: frozenset[Kind]) -> Kind:
    given = row.need("kind", '"water_heater"')
    for kind in kinds:
        if kind.value == given:
            return kind
    known = ", ".join(kind.value for kind in Kind if kind in kinds)
    raise row.fault("kind", f"{given!r} is not known here. Choose one of {known}.")


def _phases(row: Fields, service: Service) -> int:
    phases = row.get("phases", 1)
    if phases not in (1, 3) or isinstance(phases, bool):
        raise row.fault("phases", f"{phases!r} must be 1 or 3.")
    if phases == 3 and service.supply.phases != 3:
        raise row.fault("phases", f"{service.system.label} has no three phases. Leave it out.")
    return int(phases)


def _volts(row: Fields, kind: Kind, service: Service) -> Quantity:
    given = row.get("volts")
    if given is None and kind in BETWEEN_LEGS:
        return service.supply.line
    volts = row.quantity("volts", unit="V", example="120 V")
    return volts.to(VOLT)


def _leg(row: Fields, service: Service) -> str:
    leg = row.text("leg").upper()
    legs = service.supply.system.legs
    if leg and leg not in legs:
        raise row.fault("leg", f"{leg!r} is not one of the legs {', '.join(legs)}.")
    return leg


def _nameplate(
    row: Fields, kind: Kind, volts: Quantity, phases: int
) -> tuple[Quantity | None, Quantity | None]:
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
        return apparent_power(current=rating, volts=volts, phases=phases), rating.to(AMPERE)
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
