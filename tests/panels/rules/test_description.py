"""Does a wrong description name its field and say what to write?"""

from __future__ import annotations

from typing import Any

import pytest

from contractor.units import Q
from panels.rules.description import from_plain
from panels.rules.dwelling import Building, Dwelling, Kind
from panels.rules.errors import BadDescription
from panels.rules.layout import System
from tests.panels.rules.homes import RANGE, appliance, building, flat, home, worked


def one(**load: Any) -> Any:
    described = from_plain(home({"kind": "appliance", "volts": 120, **load}))
    assert isinstance(described, Dwelling)
    return described.loads[0]


@pytest.mark.parametrize(
    ("change", "field", "says"),
    [
        ({"floor_area": 1500}, "floor_area", "needs a number and its unit"),
        ({"floor_area": "1500 ft"}, "floor_area", "not an area"),
        ({"floor_area": "1500 kVA"}, "floor_area", "not an area"),
        ({"floor_area": "-5 ft2"}, "floor_area", "below zero"),
        ({"floor_area": {"value": 10**400, "unit": "ft2"}}, "floor_area", "too large"),
        ({"floor_area": "9" * 500 + " ft2"}, "floor_area", "needs a number"),
        ({"floor_area": "1 " + " " * 10**6 + "!"}, "floor_area", "needs a number"),
        ({"laundry_circuits": 10**400}, "laundry_circuits", "from 0 to 100,000"),
        ({"floor_area": {"value": -5, "unit": "ft2"}}, "floor_area", "below zero"),
        ({"floor_area": {"value": float("inf"), "unit": "ft2"}}, "floor_area", "not a number"),
        ({"floor_area": {"value": True, "unit": "ft2"}}, "floor_area", "needs a number"),
        ({"floor_area": "1500 acres"}, "floor_area", 'the unit "acres" is not known'),
        ({"floor_area": None}, "floor_area", "is missing"),
        ({"laundry_circuits": "one"}, "laundry_circuits", "whole number"),
        ({"laundry_circuits": 1.5}, "laundry_circuits", "whole number"),
        ({"laundry_circuits": True}, "laundry_circuits", "whole number"),
        ({"small_appliance_circuits": -1}, "small_appliance_circuits", "from 0 to 100,000"),
        ({"floor_aera": "1500 ft2"}, "floor_aera", "is not a field here"),
        ({"loads": {"kind": "range"}}, "loads", "list of tables"),
        ({"loads": ["range"]}, "loads[1]", "table of named fields"),
        ({"service": {"system": "2ph-90"}}, "service.system", "not known"),
        ({"service": {"system": "3ph-480"}}, "service.system", "does not feed dwellings"),
        ({"service": {"rating": "200 V"}}, "service.rating", "not a current"),
        ({"service": {"ratin": "200 A"}}, "service.ratin", "is not a field here"),
        ({"managed_at": "40 A"}, "managed_at", "mark the loads"),
        ({"managed_at": "40 ft"}, "managed_at", "neither A nor VA"),
    ],
)
def test_a_fault_of_the_dwelling_names_its_field(
    change: dict[str, Any], field: str, says: str
) -> None:
    with pytest.raises(BadDescription) as caught:
        from_plain(home() | change)
    assert caught.value.field == field
    assert says in caught.value.sentence


@pytest.mark.parametrize(
    ("load", "field", "says"),
    [
        ({}, "loads[2].kind", "is missing"),
        ({"kind": "toaster"}, "loads[2].kind", "Choose one of range"),
        ({"kind": "range"}, "loads[2].nameplate", "is missing"),
        ({"kind": "range", "nameplate": 12}, "loads[2].nameplate", "needs a number and its unit"),
        ({"kind": "range", "nameplate": "12 kWh"}, "loads[2].nameplate", "is not a load"),
        ({"kind": "range", "nameplate": "12 ft"}, "loads[2].nameplate", "is not a load"),
        ({"kind": "range", "nameplate": "12 kW", "count": 0}, "loads[2].count", "from 1 to"),
        (
            {"kind": "range", "nameplate": "12 kW", "motor": "yes"},
            "loads[2].motor",
            "true or false",
        ),
        ({"kind": "range", "nameplate": "12 kW", "leg": "A"}, "loads[2].leg", "stands on both"),
        (
            {"kind": "range", "nameplate": "12 kW", "leg": "C"},
            "loads[2].leg",
            "not one of the legs",
        ),
        ({"kind": "range", "nameplate": "12 kW", "watts": 3}, "loads[2].watts", "not a field"),
        ({"kind": "appliance", "nameplate": "9 A"}, "loads[2].volts", "is missing"),
        (
            {"kind": "appliance", "nameplate": "9 A", "volts": "9 A"},
            "loads[2].volts",
            "not a voltage",
        ),
        ({"kind": "cooling", "nameplate": "3 kW"}, "loads[2].nameplate", "is real power"),
        (
            {"kind": "cooling", "nameplate": "3 kW", "power_factor": 1.2},
            "loads[2].power_factor",
            "at most 1",
        ),
        ({"kind": "cooling", "nameplate": "2 hp", "name": 5}, "loads[2].nameplate", "shaft gives"),
        (
            {"kind": "range", "nameplate": "9 kW", "volts": 12},
            "loads[2].volts",
            "neither a voltage",
        ),
        (
            {"kind": "range", "nameplate": "9 kW", "volts": 480},
            "loads[2].volts",
            "neither a voltage",
        ),
        (
            {"kind": "motor", "nameplate": "9 A", "volts": 120, "horsepower": 0},
            "loads[2].horsepower",
            "above zero",
        ),
    ],
)
def test_a_fault_of_a_load_names_its_place(load: dict[str, Any], field: str, says: str) -> None:
    with pytest.raises(BadDescription) as caught:
        from_plain(home(RANGE, load))
    assert caught.value.field == field
    assert says in caught.value.sentence
    assert caught.value.fields == {field: caught.value.fields[field]}


def test_a_fault_in_a_building_names_the_dwelling_and_the_load() -> None:
    with pytest.raises(BadDescription) as caught:
        from_plain(building(flat(RANGE, count=2), flat(RANGE, {"kind": "range"}, count=2)))
    assert caught.value.field == "units[2].loads[2].nameplate"


@pytest.mark.parametrize(
    ("load", "va"),
    [
        ({"nameplate": "1380 VA"}, 1380),
        ({"nameplate": "1.38 kVA"}, 1380),
        ({"nameplate": "1,380 VA"}, 1380),
        ({"nameplate": {"value": 1.38, "unit": "kVA"}}, 1380),
        ({"nameplate": "6 A", "volts": 230}, 1380),
        ({"nameplate": "6 amps", "volts": "230 V"}, 1380),
        ({"nameplate": "1380 W", "power_factor": 1.0}, 1380),
        ({"nameplate": "1.2 kW", "power_factor": 0.8}, 1500),
    ],
)
def test_a_nameplate_in_any_of_its_forms(load: dict[str, Any], va: float) -> None:
    assert one(**load).apparent.m_as("VA") == pytest.approx(va)


@pytest.mark.parametrize("kind", ["range", "oven", "cooktop", "dryer", "water_heater", "heating"])
def test_kilowatts_of_resistance_are_kilovolt_amperes(kind: str) -> None:
    described = from_plain(home({"kind": kind, "nameplate": "4.5 kW"}))
    assert isinstance(described, Dwelling)
    assert described.loads[0].apparent == Q(4500.0, "VA")


def test_square_meters_are_converted() -> None:
    described = from_plain(home() | {"floor_area": "139.35456 m2"})
    assert isinstance(described, Dwelling)
    assert described.floor_area.m_as("ft**2") == pytest.approx(1500)


def test_equipment_between_legs_takes_the_line_voltage_of_its_supply() -> None:
    described = from_plain(home(RANGE, service={"system": "1ph-208"}))
    assert isinstance(described, Dwelling)
    assert described.loads[0].volts == Q(208.0, "V")
    assert described.service.system is System.WYE_208_2LEG
    assert not described.loads[0].to_neutral
    assert described.loads[0].kind is Kind.RANGE


def test_a_building_pools_its_dwellings() -> None:
    described = from_plain(building(flat(RANGE, count=10), flat(appliance(900), count=5, area=500)))
    assert isinstance(described, Building)
    pooled = described.pooled
    assert described.count == pooled.units == 15
    assert pooled.floor_area.m_as("ft**2") == 10 * 840 + 5 * 500
    assert pooled.small_appliance_circuits == 30
    assert [load.count for load in pooled.loads] == [10, 5]


def test_too_few_small_appliance_circuits_are_refused_by_the_edition() -> None:
    with pytest.raises(BadDescription, match=r"at least 2 \(210.11\(C\)\(1\)\); 1 given"):
        worked(home() | {"small_appliance_circuits": 1})
