"""Can a unit be mistaken over the API? No bare number, no kW for VA, no feet for metres or ft²."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rest_framework.test import APIClient

pytestmark = pytest.mark.django_db
PREVIEW = "/api/v1/calculations/preview"
EDITIONS = st.sampled_from(["2017", "2020", "2023", "2026"])
METHODS = st.sampled_from(["standard", "optional"])
NUMBERS = st.floats(100, 9000).map(lambda number: round(number, 1))
KILOS = st.integers(100, 9000)
few = settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
NO_RESISTANCE = st.sampled_from(["appliance", "motor", "cooling", "heat_pump", "vehicle", "other"])
RESISTANCE = st.sampled_from(["range", "dryer", "water_heater", "heating"])
OTHER_KINDS = st.sampled_from(["ft", "m", "kWh", "ft2", "V", "VA/ft2", "h", "ohm"])
NO_AREA = st.sampled_from(["ft", "m", "VA", "kW", "A", "V", "VA/ft2", "kWh"])


def asked(phone: APIClient, method: str, edition: str, load: dict[str, Any], **home: Any) -> Any:
    dwelling = {
        "floor_area": "1500 ft2", "small_appliance_circuits": 2, "laundry_circuits": 1,
        "loads": [{"name": "It", "volts": 240, **load}], **home,
    }  # fmt: skip
    said = {"method": method, "edition": edition, "inputs": dwelling}
    return phone.post(PREVIEW, said, format="json")


def refused_at(answer: Any, field: str) -> None:
    assert answer.status_code == 422, answer.data
    assert list(answer.data["fields"]) == [field], answer.data


def load_va(answer: Any) -> float:
    assert answer.status_code == 200, answer.data
    lines = (line for section in answer.data["sections"] for line in section["lines"])
    value = next(line["value"] for line in lines if line["key"] == "load")
    assert value["unit"] == "VA"
    return float(value["value"])


@few
@given(method=METHODS, edition=EDITIONS, number=st.one_of(NUMBERS, KILOS), text=st.booleans())
def test_a_bare_number_is_no_nameplate_and_no_area(
    office_phone: APIClient, method: str, edition: str, number: float, text: bool
) -> None:
    bare = str(number) if text else number
    answer = asked(office_phone, method, edition, {"kind": "range", "nameplate": bare})
    refused_at(answer, "loads[1].nameplate")
    fine = {"kind": "range", "nameplate": "8 kW"}
    refused_at(asked(office_phone, method, edition, fine, floor_area=bare), "floor_area")
    rated = {"rating": bare}
    refused_at(asked(office_phone, method, edition, fine, service=rated), "service.rating")


@few
@given(
    method=METHODS, edition=EDITIONS, kind=NO_RESISTANCE, number=NUMBERS,
    unit=st.sampled_from(["W", "kW"]),
)  # fmt: skip
def test_watts_are_no_volt_amperes_without_a_power_factor(
    office_phone: APIClient, method: str, edition: str, kind: str, number: float, unit: str
) -> None:
    load = {"kind": kind, "nameplate": f"{number} {unit}"}
    refused_at(asked(office_phone, method, edition, load), "loads[1].nameplate")
    watts = {"kind": "other", "nameplate": f"{number} W", "power_factor": 0.8}
    apparent = {"kind": "other", "nameplate": f"{number / 0.8:.6f} VA"}
    both = [load_va(asked(office_phone, method, edition, one)) for one in (watts, apparent)]
    assert both[0] == pytest.approx(both[1], abs=0.01)


@few
@given(
    method=METHODS, edition=EDITIONS, kind=st.one_of(RESISTANCE, NO_RESISTANCE), number=NUMBERS,
    unit=OTHER_KINDS,
)  # fmt: skip
def test_a_unit_of_another_kind_is_no_nameplate(
    office_phone: APIClient, method: str, edition: str, kind: str, number: float, unit: str
) -> None:
    load = {"kind": kind, "nameplate": f"{number} {unit}"}
    refused_at(asked(office_phone, method, edition, load), "loads[1].nameplate")


@few
@given(method=METHODS, edition=EDITIONS, number=NUMBERS, unit=NO_AREA)
def test_a_length_or_a_load_is_no_floor_area(
    office_phone: APIClient, method: str, edition: str, number: float, unit: str
) -> None:
    load = {"kind": "range", "nameplate": "8 kW"}
    answer = asked(office_phone, method, edition, load, floor_area=f"{number} {unit}")
    refused_at(answer, "floor_area")


@few
@given(method=METHODS, edition=EDITIONS, square_feet=st.integers(500, 5000))
def test_square_metres_are_converted_and_never_taken_for_square_feet(
    office_phone: APIClient, method: str, edition: str, square_feet: int
) -> None:
    load = {"kind": "range", "nameplate": "8 kW"}
    metric = f"{square_feet * 0.3048**2:.6f} m2"  # exactly, by definition of the foot (NIST SP 811)
    areas = (f"{square_feet} ft2", metric)
    loads = [load_va(asked(office_phone, method, edition, load, floor_area=area)) for area in areas]
    assert loads[0] == pytest.approx(loads[1], abs=0.01)


@few
@given(feet=st.integers(10, 400), edition=EDITIONS, wrong=st.sampled_from(["{}", "{} ft2", "{} A"]))
def test_a_run_in_metres_drops_what_the_same_run_in_feet_does(
    office_phone: APIClient, feet: int, edition: str, wrong: str
) -> None:
    def drop(length: Any) -> Any:
        inputs = {"current": "24 A", "ohms": "1.2 ohm/kft", "length": length}
        said = {"method": "voltage_drop", "edition": edition, "inputs": inputs}
        return office_phone.post(PREVIEW, said, format="json")

    in_feet, in_metres = drop(f"{feet} ft"), drop(f"{feet * 0.3048:.6f} m")
    assert in_feet.status_code == in_metres.status_code == 200, in_feet.data
    assert told(in_feet) == pytest.approx(told(in_metres), rel=1e-4)
    assert drop(wrong.format(feet)).status_code == 422


def told(answer: Any) -> list[float]:
    lines = (line for section in answer.data["sections"] for line in section["lines"])
    return [one["value"]["value"] for one in lines if isinstance(one["value"], dict)
            and one["value"]["unit"] == "V"]  # fmt: skip
