"""How is an outage at a site put plainly for the rules: its loads, its sources, what was asked?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.models import Site
from panels.models import Source
from panels.queries.meter import typical_year
from panels.queries.standby import StandbyRecord
from panels.rules.standby.loads import window
from panels.rules.standby.sunrise import sunrise
from panels.services import standby_loads
from panels.services.standby_loads import Drawn

YEARS = 2000, 2100
SEVEN = dt.time(7)


@dataclass(frozen=True, kw_only=True)
class Asked:
    """What an outage is asked for. Without `sources` all that can feed do."""

    start: dt.datetime
    hours: int = 72
    until: dt.time | None = None
    shed: int = 0
    sources: tuple[UUID, ...] = ()
    let_go_percent: float | None = None
    generator_first: bool = False
    from_meter: bool = False


@dataclass(frozen=True, kw_only=True)
class Standby:
    """The plain description of an outage, the sources in it, and what was assumed or left out."""

    inputs: dict[str, Any]
    sources: list[Source]
    drawn: Drawn
    incomplete: list[Source]


def describe(site: Site, record: StandbyRecord, asked: Asked) -> Standby:
    """The outage as `panels.rules.standby.description` reads it.

    Raises Refused where nothing is backed up, where no source can be counted, or where the meter
    is asked for and gives no year.
    """
    if not YEARS[0] <= asked.start.year <= YEARS[1]:
        told = _("Choose a day from %(first)s to %(last)s.")
        raise Invalid("day", told % {"first": YEARS[0], "last": YEARS[1]})
    chosen = _chosen(record, asked)
    sources = [one for one in chosen if source_of(one)]
    if not any(one.kind != Source.Kind.SOLAR for one in sources):
        raise Refused("no_source", _no_source(chosen))
    drawn = standby_loads.drawn(record, month=asked.start.month)
    if not drawn.rows:
        told = _("Nothing that is backed up has a load on record. Tick the circuits that stay on.")
        raise Refused("nothing_backed_up", told)
    inputs: dict[str, Any] = {
        "start": f"{asked.start:%Y-%m-%d %H:%M}",
        "hours": asked.hours,
        "until": f"{asked.until or morning(site, asked.start):%H:%M}",
        "shed": asked.shed,
        "order": ["generator", "storage"] if asked.generator_first else ["storage", "generator"],
        "loads": drawn.rows if asked.from_meter else list(map(_without_share, drawn.rows)),
        **_sources(sources),
    }
    if asked.let_go_percent is not None:
        inputs["let_go_at_percent"] = asked.let_go_percent
    if asked.from_meter:
        inputs["metered"] = metered(site, asked)
    incomplete = [one for one in chosen if one not in sources]
    return Standby(inputs=inputs, sources=sources, drawn=drawn, incomplete=incomplete)


def _chosen(record: StandbyRecord, asked: Asked) -> list[Source]:
    """Those asked for; else all, of several generators the first."""
    if asked.sources:
        return [one for one in record.sources if one.pk in asked.sources]
    engines = [one for one in record.sources if one.kind == Source.Kind.GENERATOR]
    return [one for one in record.sources if one not in engines[1:]]


def _no_source(chosen: Sequence[Source]) -> str:
    if any(one.kind == Source.Kind.SOLAR for one in chosen):
        return _("Solar alone forms no supply to follow: choose storage or a generator as well.")
    if chosen:
        return _("Record what the source gives: kVA, and kWh of storage. Then it can be counted.")
    return _("Choose storage or a generator.")


def _without_share(row: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in row.items() if name != "share"}


def morning(site: Site, start: dt.datetime) -> dt.time:
    """Sunrise after the start where the site is placed on the map, else seven o'clock."""
    if site.latitude is None or site.longitude is None:
        return SEVEN
    day = start.date() + dt.timedelta(days=1 if start.hour >= SEVEN.hour else 0)
    offset = dt.datetime.combine(day, SEVEN, tzinfo=site.zone).utcoffset() or dt.timedelta()
    found = sunrise(day, latitude=site.latitude, longitude=site.longitude, offset=offset)
    return found or SEVEN


def metered(site: Site, asked: Asked) -> list[float]:
    """The watts of the typical year from the start on, quarter-hour by quarter-hour."""
    year = typical_year(site)
    if year is None:
        raise Refused("no_meter", _("No year of meter readings is on record here."))
    return window(year, asked.start, asked.hours)


def _sources(sources: Sequence[Source]) -> dict[str, Any]:
    said: dict[str, Any] = {}
    for kind in (Source.Kind.STORAGE, Source.Kind.SOLAR):
        if found := [source_of(one) for one in sources if one.kind == kind]:
            said[kind.value] = found
    engines = [one for one in sources if one.kind == Source.Kind.GENERATOR]
    if len(engines) > 1:
        raise Refused("two_generators", _("Choose one generator: they are not run together."))
    if engines:
        said["generator"] = source_of(engines[0])
    return said


def source_of(source: Source) -> dict[str, Any] | None:
    """The source in plain fields; None while what it gives is not recorded."""
    by_kind = {
        Source.Kind.STORAGE.value: _storage,
        Source.Kind.GENERATOR.value: _generator,
        Source.Kind.SOLAR.value: _solar,
    }
    plain = by_kind[source.kind](source)
    if plain is None:
        return None
    return {"name": source.name, **{key: each for key, each in plain.items() if each is not None}}


def _storage(source: Source) -> dict[str, Any] | None:
    """Its inverter's kVA are taken as kW: a power factor of one."""
    if not source.usable_kwh or not source.rated_kva:
        return None
    return {
        "usable": _amount(source.usable_kwh, "kWh"),
        "inverter": _amount(source.rated_kva, "kW"),
        "surge": _amount(source.surge_kva, "kVA"),
    }


def _generator(source: Source) -> dict[str, Any] | None:
    if not source.rated_kva:
        return None
    burns = source.fuel_full_per_h is not None
    return {
        "rating": _amount(source.rated_kva, "kVA"),
        "surge": _amount(source.surge_kva, "kVA"),
        "altitude": _amount(max(source.altitude_ft or 0.0, 0.0), "ft"),
        "full_per_h": source.fuel_full_per_h,
        "half_per_h": source.fuel_half_per_h,
        "fuel": source.fuel_on_hand if burns else None,
        "fuel_unit": source.fuel_unit or None,
    }


def _solar(source: Source) -> dict[str, Any] | None:
    peak = source.peak_kw or source.rated_kva
    if not peak:
        return None
    return {"peak": _amount(peak, "kW"), "hourly": source.hourly or None}


def _amount(value: float | None, unit: str) -> dict[str, Any] | None:
    return None if value is None else {"value": value, "unit": unit}


def stages_of(record: StandbyRecord) -> list[int]:
    """The shed orders that can be off with something left on, for a choice."""
    rows = standby_loads.drawn(record, month=1).rows
    orders = {row.get("shed_order") for row in rows}
    known = sorted(each for each in orders if each)
    return known if None in orders else known[:-1]
