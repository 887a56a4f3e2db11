"""How large the source has to be, from the record: home or shop, each kind of transfer."""

from __future__ import annotations

import datetime as dt

import pytest

from panels.editions import edition
from panels.queries.standby import record_of
from panels.rules.questions import answer
from panels.services import calculations, load, shop
from panels.services.standby import Asked, describe
from panels.services.standby_sizing import sizings
from tests.factories.panels import a_recorder
from tests.panels.standby import a_backed_up_house, a_battery

pytestmark = pytest.mark.django_db
EVENING = dt.datetime.fromisoformat("2026-01-15 18:00")


def sized(site, shed=0):
    standby = describe(site, record_of(site), Asked(start=EVENING, shed=shed))
    return {one.transfer: one for one in sizings(site, standby, edition("2017"), shed=shed)}


def test_by_hand_what_is_left_on_counts_and_by_automatic_transfer_the_whole_home():
    house = a_backed_up_house()
    a_battery(house.site)
    load.record_home(site=house.site, by=a_recorder(), floor_area_ft2=1500, service_a=100)
    found = sized(house.site)
    assert found["manual"].result.value("load").m_as("VA") == pytest.approx(240 + 1200 + 4500)
    assert not found["manual"].as_recorded
    assert found["automatic"].as_recorded
    whole = answer("optional", calculations.inputs_of(house.site), edition("2017"))
    carried = found["automatic"].result.value("load")
    assert carried.m_as("VA") == pytest.approx(whole.value("load").m_as("VA"))
    assert {line.key for line in found["automatic"].ways_out} == {"larger", "set_point"}
    less = sized(house.site, shed=1)["manual"].result
    assert less.value("load").m_as("VA") == pytest.approx(240 + 1200)


def test_where_management_is_on_record_its_set_point_counts():
    house = a_backed_up_house()
    a_battery(house.site)
    load.record_home(site=house.site, by=a_recorder(), floor_area_ft2=1500, managed_a=20)
    managed = sized(house.site)["managed"]
    assert managed.result.value("load").m_as("VA") == pytest.approx(4800)
    assert managed.result.value("fits") == "yes"


def test_before_the_home_is_described_it_says_what_is_missing():
    house = a_backed_up_house()
    a_battery(house.site)
    assert "Record the floor area" in sized(house.site)["automatic"].objection


def test_a_shop_is_counted_by_its_own_rules():
    house = a_backed_up_house()
    a_battery(house.site)
    shop.record_shop(
        site=house.site, by=a_recorder(), occupancy="office", floor_area_ft2=2000, receptacles=12
    )
    whole = answer("shop", calculations.inputs_of(house.site), edition("2017"))
    found = sized(house.site)["automatic"].result
    assert found.value("load").m_as("VA") == pytest.approx(whole.value("load").m_as("VA"))
    assert "Small shop" in found.line("load").how
