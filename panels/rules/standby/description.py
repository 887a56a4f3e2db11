"""How are standby sources and backed-up loads read from a plain description?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from panels.rules.fields import Fields
from panels.rules.quantities import VA, WATT, read_quantity_any, show
from panels.rules.standby import assumptions as assumed
from panels.rules.standby.equipment import (
    a_draw,
    factor,
    generator_from,
    part,
    solar_from,
    storage_from,
)
from panels.rules.standby.loads import Load
from panels.rules.standby.outage import LONGEST, Outage
from panels.rules.standby.simulate import GENERATOR, SOLAR, STORAGE, Supply
from panels.rules.standby.sources import Generator, together

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
        arrays=tuple(solar_from(row) for row in _at_most(fields, SOLAR)),
        shed=fields.count("shed", default=0),
        let_go_at=part(fields, "let_go_at_percent"),
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
    if not isinstance(given, list) or not all(a_draw(one) for one in given):
        told = "must be a list of watts, one for each quarter-hour, none below zero."
        raise fields.fault("metered", told)
    return tuple(map(float, given))


def load_from(row: Fields) -> Load:
    """One backed-up load. Fields: ``name``, ``running`` (W, or VA with ``power_factor``),
    ``habit``, ``circuit``, ``shed_order``, ``motor``, ``starting`` (VA, or A with ``volts``),
    ``share``."""
    running, apparent = _running(row)
    shed = row.get("shed_order")
    load = row.build(
        Load,
        name=row.need("name", '"Refrigerator"'),
        running=running,
        apparent=apparent,
        habit=row.text("habit", assumed.EVEN),
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
    by = factor(row, "power_factor", 1.0)
    if by > 1:
        raise row.fault("power_factor", "must be above 0 and at most 1.")
    if given.is_compatible_with(WATT):
        watts = float(given.m_as(WATT))
        return watts, watts / by
    if given.is_compatible_with(VA):
        return float(given.m_as(VA)) * by, float(given.m_as(VA))
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
