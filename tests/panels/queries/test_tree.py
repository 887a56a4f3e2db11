"""Does a record come out as the plain description the rules read, in few questions?"""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from contractor.models import Site
from panels.models import Circuit
from panels.queries.tree import tree
from panels.rules.feeders.answer import read
from panels.services import load
from panels.services.circuits import change_circuit
from panels.services.panels import retire_panel
from tests.factories.jobs import NOW
from tests.factories.panels import a_circuit, a_panel, a_recorder
from tests.panels.sites import a_home_and_garage, an_entrance

pytestmark = pytest.mark.django_db


def test_a_record_reads_as_a_site(site: Site) -> None:
    a_home_and_garage(site)
    an_entrance(site)
    found = read(tree(site, is_dwelling=True))
    assert {box.name: depth for box, depth in found.downward()} == {"Main": 1, "Garage": 2}
    assert found.entrance.available_a == pytest.approx(14_500)
    assert "Distribution desk" in found.entrance.stated
    assert found.run_to(found.by_name["Garage"]).length_ft == 60
    assert [load.name for load in found.unplaced] == ["Range"]
    loads = {load.name: load for one in found.by_name["Garage"].breakers for load in one.loads}
    assert (loads["Car"].va, loads["Car"].continuous) == (32 * 240, True)
    assert (loads["Saw"].va, loads["Saw"].to_neutral) == (15 * 120, True)


@pytest.mark.parametrize(
    ("said", "use"),
    [
        ({"serves": "receptacles", "areas": ["kitchen"]}, "small_appliance"),
        ({"serves": "receptacles", "areas": ["laundry"]}, "laundry"),
        ({"serves": "both", "areas": ["kitchen"]}, "general"),
        ({"serves": "lights", "areas": ["bedroom"]}, "general"),
        ({"serves": "equipment", "areas": ["kitchen"]}, ""),
        ({}, ""),
    ],
)
def test_a_dwellings_circuit_is_counted_by_what_it_serves(
    site: Site, said: dict[str, object], use: str
) -> None:
    main = a_panel(site)
    change_circuit(circuit=a_circuit(main, 1), by=a_recorder(), **said)
    for is_dwelling, expected in ((True, use), (False, "")):
        (circuit,) = tree(site, is_dwelling=is_dwelling)["panels"][0]["circuits"]
        assert circuit.get("use", "") == expected


@pytest.mark.parametrize(
    ("nameplate", "va"),
    [
        ({"nameplate": 1.2, "unit": "kVA", "volts": 120}, 1200),
        ({"nameplate": 10, "unit": "A", "volts": 120, "count": 2}, 2400),
        ({"nameplate": 900, "unit": "W", "volts": 120, "power_factor": 0.9}, 1000),
    ],
)
def test_a_nameplate_becomes_volt_amperes(
    site: Site, nameplate: dict[str, object], va: float
) -> None:
    load.add_load(site=site, by=a_recorder(), kind="appliance", name="Pump", **nameplate)
    a_panel(site)
    (found,) = tree(site, is_dwelling=False)["unplaced"]
    assert found["load"] == {"value": pytest.approx(va), "unit": "VA"}


def test_a_load_on_a_retired_panel_is_on_no_circuit(site: Site) -> None:
    _main, garage = a_home_and_garage(site)
    Circuit.objects.filter(feeds=garage).update(kind="spare", name="")
    garage.fed_from = None
    garage.save()
    retire_panel(panel=garage, by=a_recorder(), now=NOW)
    names = {one["name"] for one in tree(site, is_dwelling=True)["unplaced"]}
    assert names == {"Range", "Saw", "Car"}


def asked(site: Site) -> int:
    with CaptureQueriesContext(connection) as queries:
        tree(site, is_dwelling=True)
    return len(queries)


def test_a_larger_site_asks_no_more_often(site: Site) -> None:
    main, _garage = a_home_and_garage(site)
    an_entrance(site)
    before = asked(site)
    for number in range(3):
        fed = a_panel(site, name=f"Panel {number}", spaces=12)
        space = 10 + 4 * number
        a_circuit(main, space, poles=2, rating_a=60, kind="feeder", name="Feeder", feeds=fed)
        a_circuit(fed, 1)
    assert asked(site) == before == 4
