"""The outage of a site from its record: what counts, what is assumed, what is refused."""

from __future__ import annotations

import datetime as dt

import pytest

from contractor.errors import Invalid, Refused
from panels.queries.meter import typical_year
from panels.queries.standby import record_of
from panels.rules.standby.description import outage_from
from panels.services import circuits, feeders, load, meter
from panels.services.standby import Asked, describe, morning, stages_of
from panels.services.standby_loads import drawn
from tests.factories.panels import a_circuit, a_panel, a_recorder
from tests.panels import metering
from tests.panels.standby import a_backed_up_house, a_battery

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 1, 20, 15, 0, tzinfo=dt.UTC)
EVENING = Asked(start=dt.datetime.fromisoformat("2026-01-15 18:00"))


def described(site, **asked):
    return describe(site, record_of(site), Asked(**{"start": EVENING.start, **asked}))


def test_each_load_on_a_backed_up_circuit_is_a_row_with_its_order():
    house = a_backed_up_house()
    a_battery(house.site)
    rows = {row["name"]: row for row in described(house.site).inputs["loads"]}
    assert {name: row.get("shed_order") for name, row in rows.items()} == {
        "Refrigerator": None,
        "Well pump": 2,
        "Water heater": 1,
    }
    assert rows["Well pump"]["motor"] is True
    assert rows["Water heater"]["running"] == {"value": 4500, "unit": "VA"}
    outage = outage_from(described(house.site).inputs)
    assert outage.stages == (0, 1, 2)
    assert outage.lasts(2) >= outage.lasts(1) >= outage.lasts(0) > 0


def test_a_circuit_in_a_panel_whose_feeder_is_backed_up_goes_off_with_the_feeder():
    main = a_panel()
    sub = a_panel(main.site, name="Garage panel", main_a=None)
    a_circuit(
        main, 1, poles=2, kind="feeder", name="Garage", feeds=sub, backed_up=True, shed_order=3
    )
    inside = a_circuit(sub, 1, name="Freezer", backed_up=True, shed_order=5)
    other = a_circuit(sub, 3, name="Bench")
    backed = {one.circuit.pk: one.order for one in record_of(main.site).backed}
    assert backed == {inside.pk: 3, other.pk: 3}


def test_through_lugs_the_feeder_of_the_panel_before_counts():
    main = a_panel()
    sub = a_panel(main.site, name="Garage panel", main_a=None, feed_through_lugs=True)
    a_circuit(main, 1, poles=2, kind="feeder", name="Garage", feeds=sub, backed_up=True)
    a_circuit(sub, 1, name="Bench")
    last = a_panel(main.site, name="Shed panel", main_a=None)
    feeders.feed_panel(panel=last, by=a_recorder(), through=sub)
    lamp = a_circuit(last, 1, name="Shed lights")
    assert lamp.pk in {one.circuit.pk for one in record_of(main.site).backed}


def test_what_is_assumed_and_what_is_not_counted_is_told():
    house = a_backed_up_house()
    a_battery(house.site)
    lights = a_circuit(house, 20, name="Hall lights", rating_a=15, backed_up=True)
    sauna = a_circuit(house, 21, name="Sauna", poles=2, rating_a=40, backed_up=True)
    drawn = described(house.site).drawn
    assert drawn.assumed == [lights]
    assert drawn.unknown == [sauna]
    assert {"value": 180.0, "unit": "W"} in [row["running"] for row in drawn.rows]


def test_a_source_that_does_not_say_what_it_gives_is_left_out_and_named():
    house = a_backed_up_house()
    bare = a_battery(house.site, name="New one", rated_kva=None, surge_kva=None)
    with pytest.raises(Refused, match="Record what the source gives"):
        described(house.site)
    a_battery(house.site)
    found = described(house.site)
    assert found.incomplete == [bare]
    assert len(found.inputs["storage"]) == 1


def test_solar_alone_is_refused_in_words():
    house = a_backed_up_house()
    roof = a_battery(house.site, kind="solar", name="Roof", usable_kwh=None, peak_kw=6)
    with pytest.raises(Refused, match="forms no supply"):
        described(house.site)
    battery = a_battery(house.site)
    assert "solar" in described(house.site).inputs
    assert "solar" not in described(house.site, sources=(battery.pk,)).inputs
    with pytest.raises(Refused, match="forms no supply"):
        described(house.site, sources=(roof.pk,))


def test_of_two_generators_one_is_taken_unless_both_are_chosen():
    house = a_backed_up_house()
    pair = [
        a_battery(house.site, kind="generator", name=name, usable_kwh=None) for name in ("A", "B")
    ]
    assert described(house.site).sources == pair[:1]
    with pytest.raises(Refused, match="one generator"):
        described(house.site, sources=tuple(one.pk for one in pair))


def test_without_a_backed_up_load_it_says_so():
    site = a_panel().site
    a_battery(site)
    with pytest.raises(Refused, match="Tick the circuits"):
        described(site)


def test_a_day_out_of_reach_is_refused():
    house = a_backed_up_house()
    a_battery(house.site)
    for day in ("0001-01-01", "9999-12-31"):
        with pytest.raises(Invalid, match="Choose a day"):
            described(house.site, start=dt.datetime.fromisoformat(f"{day} 18:00"))


def test_the_morning_is_sunrise_where_the_site_is_on_the_map():
    site = a_panel().site
    site.latitude = site.longitude = None
    assert morning(site, EVENING.start) == dt.time(7)
    site.latitude, site.longitude = 40.35, -83.0
    winter, summer = (
        morning(site, dt.datetime.fromisoformat(f"2026-{day} 18:00")) for day in ("12-20", "06-20")
    )
    assert dt.time(7, 30) < winter < dt.time(8)
    assert dt.time(5, 45) < summer < dt.time(6, 15)


def test_without_meter_readings_the_meter_cannot_be_asked():
    house = a_backed_up_house()
    a_battery(house.site)
    with pytest.raises(Refused, match="No year of meter readings"):
        described(house.site, from_meter=True)


def test_the_meter_s_year_is_cut_from_the_start():
    house = a_backed_up_house()
    a_battery(house.site)
    year = metering.green_button(metering.quarters())
    meter.take_in(site=house.site, file=year, name="2025.xml", by=a_recorder(), now=NOW)
    found = described(house.site, from_meter=True, hours=24)
    begins = ((14 * 24) + 18) * 4
    assert found.inputs["metered"] == [
        max(round(one, 1), 0.0) for one in typical_year(house.site)[begins : begins + 96]
    ]
    assert outage_from(found.inputs).lasts(0) > 0


def test_the_parts_of_the_meter_are_those_of_the_typical_draw():
    house = a_backed_up_house()
    dryer = house.circuits.get(name="Dryer")
    rows = {row["name"]: row["share"] for row in describe_rows(house.site)}
    assert 0.99 < sum(rows.values()) <= 1.0 + 1e-6  # nothing else draws here
    circuits.change_circuit(circuit=dryer, by=a_recorder(), name="Oven")
    load.add_load(
        site=house.site, by=a_recorder(), circuit=dryer, kind="oven", name="Oven", nameplate=8,
        unit="kW",
    )  # fmt: skip
    assert sum(row["share"] for row in describe_rows(house.site)) < 0.95


def describe_rows(site):
    return drawn(record_of(site), month=1).rows


def test_only_orders_that_leave_something_on_can_be_chosen():
    house = a_backed_up_house()
    assert stages_of(record_of(house.site)) == [1, 2]
    fridge = house.circuits.get(name="Refrigerator")
    circuits.change_circuit(circuit=fridge, by=a_recorder(), shed_order=3)
    assert stages_of(record_of(house.site)) == [1, 2]
