"""How are standby sources and backed-up loads read from a plain description?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from panels.rules.fields import Fields
from panels.rules.quantities import VA, WATT, read_quantity_any, show
from panels.rules.standby import assumptions as assumed
from panels.rules.standby.loads import Load
from panels.rules.standby.outage import LONGEST, Outage
from panels.rules.standby.simulate import GENERATOR, SOLAR, STORAGE, Supply
from panels.rules.standby.sources import Generator, Solar, Storage, together

ORDER = (STORAGE, GENERATOR)
MOST_LOADS = 400
CLOCK = "07:00"


def outage_from(plain: Mapping[str, Any]) -> Outage:
    """An outage. Raises `BadDescription` naming the field and saying what to write there.

    Fields: ``start`` ("2026-01-15 18:00"), ``hours`` (72), ``until`` ("07:00"), ``shed`` (0),
    ``let_go_at_percent``, ``order`` (["storage", "generator"]), ``loads``, ``storage``,
    ``generator``, ``solar``, ``metered`` (W of each quarter-hour from the start).
    """
    fields = Fields(plain=plain)
    hours = fields.count("hours", least=1, default=72)
    if hours > LONGEST:
        raise fields.fault("hours", f"must be from 1 to {LONGEST}.")
    outage = fields.build(
        Outage,
        start=_start(fields),
        hours=hours,
        until=_until(fields),
        loads=tuple(load_from(row) for row in _at_most(fields, "loads")),
        supply=_supply(fields),
        arrays=tuple(_solar(row) for row in _at_most(fields, SOLAR)),
        shed=fields.count("shed", default=0),
        let_go_at=_part(fields, "let_go_at_percent"),
        watts=_watts(fields),
    )
    fields.done()
    return outage


def _at_most(fields: Fields, name: str) -> list[Fields]:
    rows = list(fields.tables(name))
    if len(rows) > MOST_LOADS:
        raise fields.fault(name, f"must be a list of at most {MOST_LOADS}.")
    return rows


def _start(fields: Fields) -> dt.datetime:
    given = fields.need("start", '"2026-01-15 18:00"')
    try:
        start = dt.datetime.fromisoformat(given)
        start + dt.timedelta(hours=LONGEST)
    except (TypeError, ValueError, OverflowError):
        told = 'must be a day and an hour. Write e.g. "2026-01-15 18:00".'
        raise fields.fault("start", told) from None
    if start.tzinfo is not None:
        raise fields.fault("start", "is the site's own clock: leave the time zone out.")
    return start


def _until(fields: Fields) -> dt.time:
    given = fields.text("until", CLOCK)
    try:
        return dt.time.fromisoformat(given)
    except ValueError:
        raise fields.fault("until", 'must be a time of day. Write e.g. "07:00".') from None


def _watts(fields: Fields) -> tuple[float, ...] | None:
    given = fields.get("metered")
    if given is None:
        return None
    if not isinstance(given, list) or not all(_a_draw(one) for one in given):
        told = "must be a list of watts, one for each quarter-hour, none below zero."
        raise fields.fault("metered", told)
    return tuple(map(float, given))


def _a_draw(given: Any) -> bool:
    return isinstance(given, int | float) and not isinstance(given, bool) and 0 <= given < 1e7


def _part(fields: Fields, name: str) -> float | None:
    """A percentage from 0 to 100 as a part of one."""
    given = fields.get(name)
    if given is None:
        return None
    if isinstance(given, bool) or not isinstance(given, int | float) or not 0 <= given <= 100:
        raise fields.fault(name, "must be a number from 0 to 100.")
    return float(given) / 100


def _factor(fields: Fields, name: str, default: float) -> float:
    given = fields.number(name)
    return default if given is None else given


def load_from(row: Fields) -> Load:
    """One backed-up load. Fields: ``name``, ``running`` (W, or VA with ``power_factor``),
    ``shape``, ``circuit``, ``shed_order``, ``motor``, ``starting`` (VA, or A with ``volts``),
    ``share``."""
    running, apparent = _running(row)
    shed = row.get("shed_order")
    load = row.build(
        Load,
        name=row.need("name", '"Refrigerator"'),
        running=running,
        apparent=apparent,
        shape=row.text("shape", assumed.EVEN),
        circuit=row.text("circuit"),
        shed_order=None if shed is None else row.count("shed_order", least=1),
        motor=row.yes("motor"),
        starting=_starting(row),
        share=_share(row),
    )
    row.done()
    return load


def _running(row: Fields) -> tuple[float, float]:
    """W and VA while it runs. Without a power factor the one is taken for the other."""
    given = read_quantity_any(
        row.need("running", '"700 W"'), field=row.at("running"), example="700 W"
    )
    factor = _factor(row, "power_factor", 1.0)
    if factor > 1:
        raise row.fault("power_factor", "must be above 0 and at most 1.")
    if given.is_compatible_with(WATT):
        watts = float(given.m_as(WATT))
        return watts, watts / factor
    if given.is_compatible_with(VA):
        return float(given.m_as(VA)) * factor, float(given.m_as(VA))
    told = f'{show(given)} is not a power (W or VA). Write e.g. "700 W".'
    raise row.fault("running", told)


def _starting(row: Fields) -> float | None:
    volts = row.number("volts")
    if row.get("starting") in (None, ""):
        return None
    given = read_quantity_any(row.get("starting"), field=row.at("starting"), example="45 A")
    if given.is_compatible_with(VA):
        return float(given.m_as(VA))
    if given.is_compatible_with("A") and volts:
        return float(given.m_as("A")) * volts
    told = "must be in A, with volts beside it, or in VA."
    raise row.fault("starting", told)


def _share(row: Fields) -> float | None:
    given = row.get("share")
    if given is None:
        return None
    if isinstance(given, bool) or not isinstance(given, int | float) or not 0 <= given <= 1:
        raise row.fault("share", "must be a number from 0 to 1.")
    return float(given)


def _supply(fields: Fields) -> Supply:
    order = fields.get("order", list(ORDER))
    if not isinstance(order, list) or sorted(map(str, order)) != sorted(ORDER):
        told = 'must name both once: ["storage", "generator"] or the other way round.'
        raise fields.fault("order", f"{told} The sun always comes first.")
    storage = together([storage_from(row) for row in _at_most(fields, STORAGE)])
    given = fields.get(GENERATOR)
    generator = Generator()
    if given is not None:
        generator = generator_from(Fields(plain=given, path=fields.at(GENERATOR)))
    there = {STORAGE: storage.usable, GENERATOR: generator.rating}
    return Supply(
        storage=storage, generator=generator, order=tuple(one for one in order if there[one])
    )


def storage_from(row: Fields) -> Storage:
    """One storage. Fields: ``usable`` (kWh), or ``rated`` with ``depth``; ``inverter`` (kW),
    ``surge`` (kVA), ``efficiency``, ``round_trip``, ``at_start_percent``, ``name``."""
    efficiency = _factor(row, "efficiency", assumed.EFFICIENCY)
    trip = _factor(row, "round_trip", min(assumed.ROUND_TRIP, efficiency))
    start = _part(row, "at_start_percent")
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
        power_factor=_factor(row, "power_factor", assumed.POWER_FACTOR),
        surge=None if surge is None else float(surge.magnitude),
        altitude_ft=_height(row, "altitude"),
        rated_altitude_ft=_height(row, "rated_altitude"),
        temperature_f=_factor(row, "temperature_f", assumed.RATED_TEMPERATURE_F),
        rated_temperature_f=_factor(row, "rated_temperature_f", assumed.RATED_TEMPERATURE_F),
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


def _solar(row: Fields) -> Solar:
    """Fields: ``peak`` (kW), ``hourly`` (24 parts of the peak), ``name``."""
    hourly = row.get("hourly")
    row.text("name")
    if hourly is None:
        hourly = assumed.SUN
    elif not isinstance(hourly, list) or not all(_a_draw(one) for one in hourly):
        raise row.fault("hourly", "must be a list of 24 numbers from 0 to 1.")
    solar = row.build(
        Solar,
        peak=float(row.quantity("peak", unit="W", example="6 kW").magnitude),
        hourly=tuple(map(float, hourly)),
    )
    row.done()
    return solar
