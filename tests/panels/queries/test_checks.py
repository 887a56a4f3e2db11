"""What the record checker is given of a site's rows."""

from __future__ import annotations

import datetime as dt

import pytest

from panels.models import Panel
from panels.queries.checks import records_of
from panels.services import circuits, feeders, load, panels, readings, sources
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_circuit, a_full_house, a_panel, a_recorder

pytestmark = pytest.mark.django_db
ON = dt.date(2026, 11, 25)


def record_of(panel):
    return records_of(panel.site, on=ON)[panel.pk]


def breaker_at(record, place):
    return next(one for one in record.breakers if one.place == place)


def test_a_fed_panel_knows_its_feeder_and_the_breakers_of_the_others():
    main, sub = a_full_house()
    record = record_of(sub)
    assert (record.panel.fed_from, record.panel.feeder_a) == ("Main panel", 100)
    assert not record.at_service
    assert record.protected_at == 100
    assert len(record.elsewhere) == main.circuits.count()
    assert record_of(main).at_service


def test_a_panel_behind_feed_through_lugs_is_protected_where_its_feeder_is():
    main = a_panel(feed_through_lugs=True)
    sub = a_panel(main.site, name="Beside it", main_a=None)
    feeders.feed_panel(panel=sub, through=main, by=a_recorder())
    record = record_of(sub)
    assert (record.panel.fed_from, record.protected_at) == ("Main panel", 200)


def test_a_breaker_brings_what_is_known_of_it():
    panel = a_panel()
    a_circuit(panel, 1, poles=2, rating_a=20, name="Kitchen", multiwire="A")
    circuit = panel.circuits.get()
    said = {"serves": "receptacles", "areas": ["kitchen"], "wire_size": "12", "wire_material": "cu"}
    circuits.change_circuit(circuit=circuit, by=a_recorder(), **said)
    found = breaker_at(record_of(panel), "1,3")
    assert (found.legs, found.serves, found.areas) == (("A", "B"), "receptacles", ("kitchen",))
    assert (found.wire_size, found.multiwire, found.protection) == ("12", "A", "")


@pytest.mark.parametrize(
    ("nameplate", "unit", "more", "va"),
    [
        (1.5, "kW", {"kind": "water_heater"}, 1500), (10, "A", {"volts": 120}, 1200),
        (900, "W", {"volts": 120, "power_factor": 0.9}, 1000),
        (2, "kVA", {"volts": 240, "count": 2}, 4000),
    ],
)  # fmt: skip
def test_a_load_counts_as_its_nameplate_says(nameplate, unit, more, va):
    panel = a_panel()
    circuit = a_circuit(panel, 1)
    said = {"kind": "appliance", "name": "Load", "volts": 120} | more
    load.add_load(
        site=panel.site, circuit=circuit, nameplate=nameplate, unit=unit, by=a_recorder(), **said
    )
    (draw,) = breaker_at(record_of(panel), "1").draws
    assert draw.va == pytest.approx(va)


def source(site, **said):
    known = {"kind": "solar", "name": "Roof", "rated_a": 32.0}
    return sources.add_source(site=site, by=a_recorder(), **(known | said))


def test_a_source_in_a_panel_below_counts_at_each_busbar_on_its_way():
    main, sub = a_full_house()
    circuit = a_circuit(sub, 5, poles=2, rating_a=40, kind="source", name="Roof")
    source(main.site, circuit=circuit, position="opposite")
    at_sub, at_main = record_of(sub).sources, record_of(main).sources
    assert [one.position for one in at_sub] == ["opposite"]
    assert [one.position for one in at_main] == [""]  # where its feeder stands is not recorded
    feeder = Panel.objects.get(pk=sub.pk).fed_from_id
    assert [one.circuit for one in at_main] == [str(feeder)]


def test_a_source_ahead_of_the_service_is_on_no_busbar_below():
    main, sub = a_full_house()
    source(main.site, position="supply")
    assert [one.position for one in record_of(main).sources] == ["supply"]
    assert record_of(sub).sources == ()


def test_a_generator_behind_a_transfer_switch_and_a_vehicle_are_no_parallel_source():
    panel = a_panel()
    source(panel.site, kind="generator", name="Standby")
    source(panel.site, kind="vehicle", name="Charging")
    assert record_of(panel).sources == ()


def test_of_readings_of_one_terminal_the_latest_counts():
    panel = a_panel()
    for hour, value in ((8, 40), (9, 50)):
        taken = dt.datetime(2026, 11, 24, hour, tzinfo=dt.UTC)
        readings.record_reading(
            panel=panel, kind="torque", value=value, between="Main lug A", marked_value=50,
            taken_at=taken, now=taken, by=a_recorder(),
        )  # fmt: skip
    (torque,) = record_of(panel).torques
    assert (torque.value, torque.marked_value) == (50, 50)


def test_retired_panels_are_left_out_unless_asked_for():
    main, sub = a_full_house()
    circuits.remove_circuit(circuit=sub.circuits.get(), by=a_recorder())
    panels.retire_panel(panel=sub, now=sub.changed_at, by=a_recorder())
    assert list(records_of(main.site, on=ON)) == [main.pk]
    sub.refresh_from_db()
    assert sub.pk in records_of(main.site, on=ON, also=sub)


@pytest.mark.parametrize("panels_", [1, 4])
def test_it_asks_the_database_the_same_however_large_the_site(panels_, django_assert_num_queries):
    site = SiteFactory()
    for number in range(panels_):
        panel = a_panel(site, name=f"Panel {number}")
        for space in range(1, 10 * panels_):
            a_circuit(panel, space)
        source(site, name=f"Roof {number}", circuit=panel.circuits.first())
    with django_assert_num_queries(8):
        records_of(site, on=ON)
