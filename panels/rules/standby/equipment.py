"""How is standby equipment read from a plain description: storage, a generator, solar?"""

from __future__ import annotations

from typing import Any

from panels.rules.fields import Fields
from panels.rules.standby import assumptions as assumed
from panels.rules.standby.sources import Generator, Solar, Storage


def storage_from(row: Fields) -> Storage:
    """One storage. Fields: ``usable`` (kWh), or ``rated`` with ``depth``; ``inverter`` (kW),
    ``surge`` (kVA), ``efficiency``, ``round_trip``, ``at_start_percent``, ``name``."""
    efficiency = factor(row, "efficiency", assumed.EFFICIENCY)
    trip = factor(row, "round_trip", min(assumed.ROUND_TRIP, efficiency))
    start = part(row, "at_start_percent")
    surge = row.maybe("surge", unit="VA", example="7 kVA")
    row.text("name")
    storage = row.build(
        Storage,
        usable=_usable(row),
        inverter=float(row.quantity("inverter", unit="W", example="5 kW").magnitude),
        surge=None if surge is None else float(surge.magnitude),
        efficiency=efficiency,
        round_trip=trip,
        at_start=1.0 if start is None else start,
        assumed=row.get("efficiency") is None,
    )
    row.done()
    return storage


def _usable(row: Fields) -> float:
    rated = row.maybe("rated", unit="Wh", example="13.5 kWh")
    depth = row.number("depth")
    if rated is None:
        usable = float(row.quantity("usable", unit="Wh", example="10 kWh").magnitude)
    elif row.get("usable") is not None:
        raise row.fault("usable", "Give either usable or rated with depth.")
    elif depth is not None and depth > 1:
        raise row.fault("depth", "must be above 0 and at most 1.")
    else:
        usable = float(rated.magnitude) * (1.0 if depth is None else depth)
    if not usable:
        raise row.fault("usable", "must be above zero.")
    return usable


def generator_from(row: Fields) -> Generator:
    """A generator. Fields: ``rating`` (kVA), ``power_factor``, ``surge`` (kVA), ``altitude`` and
    ``rated_altitude`` (ft or m), ``temperature_f`` and ``rated_temperature_f``,
    ``percent_per_1000_ft``, ``percent_per_10_f``, ``full_per_h``, ``half_per_h``, ``fuel`` and
    ``fuel_unit``, ``name``."""
    surge = row.maybe("surge", unit="VA", example="14 kVA")
    row.text("name")
    generator = row.build(
        Generator,
        rating=float(row.quantity("rating", unit="VA", example="11 kVA").magnitude),
        power_factor=factor(row, "power_factor", assumed.POWER_FACTOR),
        surge=None if surge is None else float(surge.magnitude),
        altitude_ft=_height(row, "altitude"),
        rated_altitude_ft=_height(row, "rated_altitude"),
        temperature_f=factor(row, "temperature_f", assumed.RATED_TEMPERATURE_F),
        rated_temperature_f=factor(row, "rated_temperature_f", assumed.RATED_TEMPERATURE_F),
        per_1000_ft=assumed.stated(row.number("percent_per_1000_ft"), assumed.PER_1000_FT),
        per_10_f=assumed.stated(row.number("percent_per_10_f"), assumed.PER_10_F),
        full_per_h=row.number("full_per_h"),
        half_per_h=row.number("half_per_h"),
        fuel=row.number("fuel"),
        fuel_unit=row.text("fuel_unit"),
    )
    row.done()
    if not generator.rating:
        raise row.fault("rating", "must be above zero.")
    return generator


def _height(row: Fields, name: str) -> float:
    given = row.maybe(name, unit="ft", example="900 ft")
    return assumed.RATED_ALTITUDE_FT if given is None else float(given.magnitude)


def solar_from(row: Fields) -> Solar:
    """Fields: ``peak`` (kW), ``hourly`` (24 parts of the peak), ``name``."""
    given = row.get("hourly")
    hourly = assumed.SUN if given is None else given
    row.text("name")
    if given is not None and not (isinstance(given, list) and all(a_draw(one) for one in given)):
        raise row.fault("hourly", "must be a list of 24 numbers from 0 to 1.")
    solar = row.build(
        Solar,
        peak=float(row.quantity("peak", unit="W", example="6 kW").magnitude),
        hourly=tuple(map(float, hourly)),
        assumed=given is None,
    )
    row.done()
    return solar


def a_draw(given: Any) -> bool:
    """Whether it is a number that can be a draw in watts, or a part of one."""
    return isinstance(given, int | float) and not isinstance(given, bool) and 0 <= given < 1e7


def part(fields: Fields, name: str) -> float | None:
    """A percentage from 0 to 100 as a part of one."""
    given = fields.get(name)
    if given is None:
        return None
    if isinstance(given, bool) or not isinstance(given, int | float) or not 0 <= given <= 100:
        raise fields.fault(name, "must be a number from 0 to 100.")
    return float(given) / 100


def factor(fields: Fields, name: str, default: float) -> float:
    """A number above zero, or what stands for it."""
    given = fields.number(name)
    return default if given is None else given
