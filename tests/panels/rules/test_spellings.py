"""Are the trade's other words for the same thing understood, and what is ambiguous refused?"""

from __future__ import annotations

import pytest

from panels.rules.errors import BadDescription
from panels.rules.quantities import VA, read_quantity, read_quantity_any, va
from panels.rules.spellings import spelt
from tests.panels.rules.homes import RANGE, home, worked


@pytest.mark.parametrize(
    ("field", "given", "known"),
    [
        ("kind", "Range", "range"),
        ("kind", "Water heater", "water_heater"),
        ("kind", "A/C", "cooling"),
        ("kind", "EVSE", "vehicle"),
        ("kind", "Heat pump", "heat_pump"),
        ("metal", "Copper", "cu"),
        ("metal", "aluminum", "al"),
        ("raceway", "PVC", "pvc"),
        ("raceway", "EMT", "steel"),
        ("system", "120/240 V", "1ph-240"),
        ("system", "120/240 V, single phase, 3-wire", "1ph-240"),
        ("system", "208Y/120 V, three phase, 4-wire", "3ph-208"),
        ("system", "208Y/120, 3-phase", "3ph-208"),
        ("system", "208Y/120 V, 3-phase, 4-wire", "3ph-208"),
        ("system", "120/240-volt, single-phase, 3-wire", "1ph-240"),
        ("system", "480Y/277", "3ph-480"),
        ("name", "Range", "Range"),
    ],
)
def test_other_words_lead_to_the_word_the_field_knows(field: str, given: str, known: str) -> None:
    assert spelt(field, given) == known


def test_what_could_mean_two_things_is_refused_with_both_named() -> None:
    with pytest.raises(BadDescription, match=r"1ph-208.*3ph-208"):
        worked(home(RANGE, service={"system": "208Y/120"}))


@pytest.mark.parametrize(
    "written",
    ["12,000 VA", "12kVA", "12 kVA", "12000 volt-amperes", "12 KVA", "12000 va.", "12 kva"],
)
def test_a_load_may_be_written_in_many_ways(written: str) -> None:
    assert read_quantity(written, field="x", unit="VA", example="1 VA").m_as(VA) == 12000


@pytest.mark.parametrize(
    "written", ["1500 ft2", "1,500 sq ft", "1500 sq. ft.", "1500 square feet", "1500 SF"]
)
def test_an_area_may_be_written_in_many_ways(written: str) -> None:
    assert read_quantity(written, field="x", unit="ft**2", example="1 ft2").magnitude == 1500


@pytest.mark.parametrize("written", ["0.491 ohms per 1000 ft", "0.491 Ω/kft", "0.491 ohm/1000 ft"])
def test_an_impedance_may_be_written_in_many_ways(written: str) -> None:
    found = read_quantity_any(written, field="x", example="1 ohm/kft")
    assert found.m_as("ohm/kft") == pytest.approx(0.491)


def test_a_count_may_be_two_point_nought_and_not_two_and_a_half() -> None:
    plain = home(RANGE) | {"small_appliance_circuits": 2.0}
    assert worked(plain).value("load") == va(13_100)
    with pytest.raises(BadDescription, match="whole number"):
        worked(plain | {"laundry_circuits": 1.5})


def test_a_motor_by_its_horsepower_alone_is_told_what_else_is_needed() -> None:
    disposer = {"kind": "disposer", "nameplate": "1/2 hp", "volts": 120}
    with pytest.raises(BadDescription, match=r"0.5 hp is what the shaft gives.*horsepower = 0.5"):
        worked(home(disposer))
    assert read_quantity_any("1 1/2 hp", field="x", example="1 hp").magnitude == 1.5
