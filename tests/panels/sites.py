"""A home with a garage panel, its service entrance and loads on record, for tests of its tree."""

from __future__ import annotations

import datetime as dt
from typing import Any

from contractor.models import Site
from panels.models import Panel, ServiceEntrance
from panels.services import adoptions, load
from panels.services.entrance import record_entrance
from tests.factories.panels import a_circuit, a_panel, a_recorder

ENTRANCE: dict[str, Any] = {
    "occupancy": "one_family", "available_ka": 14.5, "available_xr": 2.5,
    "stated_by": "Distribution desk, by e-mail", "stated_on": dt.date(2026, 9, 14),
    "wire_size": "4/0", "wire_material": "al", "raceway": "pvc", "length_ft": 40.0,
    "disconnect_ka": 22.0,
}  # fmt: skip


def adopted(site: Site, edition: str = "2020") -> None:
    adoptions.record_adoption(
        authority=None, place=site.state, since=dt.date(2021, 1, 1), edition=edition,
        source="Ordinance 4", by=a_recorder(),
    )  # fmt: skip


def an_entrance(site: Site, **said: Any) -> ServiceEntrance:
    return record_entrance(site=site, by=a_recorder(), **(ENTRANCE | said))


def a_home_and_garage(site: Site) -> tuple[Panel, Panel]:
    """Every circuit of the garage has its load; the kitchen circuit of the main panel has none."""
    by = a_recorder()
    main = a_panel(site, name="Main", interrupting_ka=22.0)
    garage = a_panel(
        site, name="Garage", rating_a=100, bus_a=100, main_a=None, spaces=12, interrupting_ka=10.0
    )
    fed = {"kind": "feeder", "name": "Garage", "feeds": garage, "wire_size": "6"}
    fed |= {"wire_material": "cu", "raceway": "pvc", "length_ft": 60.0}
    a_circuit(main, 5, poles=2, rating_a=60, **fed)
    a_circuit(main, 2, name="Kitchen counter")
    bench, car = (
        a_circuit(garage, 1, name="Bench"), a_circuit(garage, 2, poles=2, rating_a=40, name="Car")
    )  # fmt: skip
    load.add_load(site=site, by=by, kind="appliance", name="Saw", nameplate=15, unit="A",
                  volts=120, circuit=bench)  # fmt: skip
    load.add_load(site=site, by=by, kind="vehicle", name="Car", nameplate=32, unit="A", volts=240,
                  continuous=True, circuit=car)  # fmt: skip
    load.add_load(site=site, by=by, kind="range", name="Range", nameplate=9.6, unit="kW")
    return main, garage
