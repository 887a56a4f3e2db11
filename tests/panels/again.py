"""Homes with a calculation on record, for tests of what an adoption changes."""

from __future__ import annotations

import datetime as dt

from contractor.models import Authority, Person, Site
from panels.models import Adoption, Calculation
from panels.services import adoptions, calculations, load
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_recorder

NOW = dt.datetime(2026, 11, 25, 15, 0, tzinfo=dt.UTC)
TODAY = dt.date(2026, 11, 25)


def adopt(
    where: Authority | str, edition: str, *, since: dt.date = dt.date(2019, 7, 1), **said: object
) -> Adoption:
    """An ordinance of an authority, or of a place."""
    authority, place = (None, where) if isinstance(where, str) else (where, "")
    return adoptions.record_adoption(
        authority=authority, place=place, since=since, edition=edition,
        source="Town ordinance 1182, invented", by=a_recorder(), **said,
    )  # fmt: skip


def a_home(
    authority: Authority | None = None, *, service_a: int | None = 100, **where: object
) -> Site:
    """The home of Annex D, Example D2(a), as far as it matters: 21,480 VA by the optional method
    of 2017, 19,680 VA with the changes of 2026 (2 VA/ft², first tier 8 kVA)."""
    site = SiteFactory(authority=authority, **where)
    by = a_recorder()
    load.record_home(
        site=site, by=by, floor_area_ft2=1500, small_appliance_circuits=2, laundry_circuits=1,
        service_a=service_a,
    )  # fmt: skip
    for kind, name, kilowatts in (
        ("range", "Range", 12),
        ("water_heater", "Water heater", 2.5),
        ("appliance", "Dishwasher", 1.2),
        ("dryer", "Dryer", 5),
    ):
        load.add_load(
            site=site, by=by, kind=kind, name=name, nameplate=kilowatts, unit="kW",
            volts=120 if kind == "appliance" else 240, power_factor=1,
        )  # fmt: skip
    load.add_load(
        site=site, by=by, kind="heating", name="Room heat", nameplate=1.8, unit="kW", count=5,
        controlled_separately=True,
    )  # fmt: skip
    return site


def keep(
    site: Site, *, method: str = "optional", now: dt.datetime = NOW, by: Person | None = None,
    **said: object,
) -> Calculation:  # fmt: skip
    return calculations.calculate(site=site, method=method, by=by or a_recorder(), now=now, **said)
