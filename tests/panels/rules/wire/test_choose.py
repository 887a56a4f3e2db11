"""Is the conductor chosen the smallest that passes, and does each smaller one say why not?"""

from __future__ import annotations

from typing import Any

import pytest

from panels.rules.errors import BadDescription, NotCovered
from panels.rules.working import Result
from tests.panels.rules.wire.asked import ask, number


def chosen(by: str = "2017", **plain: Any) -> str:
    return str(ask("conductor", by=by, **{"metal": "cu", **plain}).value("conductor"))


def test_a_load_and_its_device_ask_for_a_size() -> None:
    assert chosen(noncontinuous="16 A") == "12 AWG copper"  # next standard rating 20 A
    assert chosen(continuous="16 A") == "12 AWG copper"
    assert chosen(continuous="16.1 A") == "10 AWG copper"  # 20.125 A: device of 25 A
    assert chosen(noncontinuous="16 A", metal="al") == "10 AWG aluminum"
    assert chosen(device="100 A") == "2 AWG copper"  # 95 A at 60 °C, and 100 A the next rating
    assert chosen(device="100 A", terminal=75) == "3 AWG copper"


def test_a_load_and_next_size_up() -> None:
    """A device at the next standard rating above the ampacity, but not on several receptacles."""
    assert chosen(device="60 A") == "6 AWG copper"
    assert chosen(device="60 A", receptacles=True) == "4 AWG copper"


def reasons(result: Result) -> dict[str, str]:
    return {line.key: line.how for line in result.lines if line.key.startswith("size_")}


def test_every_smaller_size_says_why_it_fails() -> None:
    result = ask(
        "conductor", metal="cu", device="60 A", noncontinuous="48 A", length="200 ft",
        volts="240 V", drop_limit=3,
    )  # fmt: skip
    assert result.value("conductor") == "4 AWG copper"
    told = reasons(result)
    assert list(told) == ["size_6", "size_8", "size_10", "size_12", "size_14"]
    assert told["size_6"] == "Voltage drop: drops 3.94 %, the limit is 3 %"
    assert "carries 40 A, needs 48 A" in told["size_8"]
    assert "may be 15 A (limit for this size), is 60 A" in told["size_14"]


def test_the_ground_grows_with_conductors_enlarged_for_voltage_drop() -> None:
    result = ask(
        "conductor", metal="cu", device="60 A", noncontinuous="48 A", length="200 ft",
        volts="240 V", drop_limit=3,
    )  # fmt: skip
    assert number(result, "grounding_area") == pytest.approx(10.380 * 41740 / 26240)
    assert result.value("grounding_by_table") == "10 AWG copper"
    # Short by 1 cmil of the printed areas, and just as many gauges up as the phases.
    assert result.value("equipment_grounding") == "8 AWG copper"


def test_the_ground_does_not_grow_for_ampacity_alone() -> None:
    result = ask("conductor", metal="cu", device="60 A", ambient="45 C", bundled=6)
    assert result.value("equipment_grounding") == "10 AWG copper"


def test_a_short_wire_without_volts_has_its_drop_shown_but_no_limit() -> None:
    result = ask("conductor", metal="cu", device="20 A", noncontinuous="16 A", length="50 ft")
    assert number(result, "drop") == pytest.approx(2 * 16 * 0.05 * 2.0, rel=0.001)
    with pytest.raises(BadDescription, match="drop_limit: needs the length and the volts"):
        ask("conductor", metal="cu", device="20 A", length="50 ft", drop_limit=3)


# Table 310.12(A), typed a second time from memory, as in the check values: rating, copper, aluminum
PRINTED = (
    "100 4 2 | 110 3 1 | 125 2 1/0 | 150 1 2/0 | 175 1/0 3/0 | 200 2/0 4/0 | 225 3/0 250"
    " | 250 4/0 300 | 300 250 350 | 350 350 500 | 400 400 600"
)


@pytest.mark.parametrize("row", PRINTED.split(" | "))
@pytest.mark.parametrize("by", ["2017", "2020", "2023", "2026"])
def test_the_dwelling_rule_chooses_what_is_printed(row: str, by: str) -> None:
    rating, copper, aluminum = row.split()
    for metal, size in (("cu", copper), ("al", aluminum)):
        result = ask("conductor", by=by, metal=metal, device=f"{rating} A", whole_dwelling=True)
        assert str(result.value("conductor")).split()[0] == size
        assert result.value("dwelling_printed") == result.value("conductor")


@pytest.mark.parametrize(
    ("plain", "why"),
    [
        ({"device": "200 A"}, "not said to carry the entire load"),
        ({"device": "90 A", "whole_dwelling": True}, "100 A to 400 A; this is 90 A"),
        ({"device": "450 A", "whole_dwelling": True}, "100 A to 400 A; this is 450 A"),
        ({"device": "200 A", "whole_dwelling": True, "phases": 3}, "single-phase"),
    ],
)
def test_the_dwelling_rule_says_where_it_does_not_apply(plain: dict[str, Any], why: str) -> None:
    line = ask("conductor", metal="cu", **plain).line("dwelling_rule")
    assert line.value == "not used"
    assert why in line.how


def test_the_dwelling_rule_still_loses_to_heat_and_bundling() -> None:
    assert chosen(device="200 A", whole_dwelling=True, insulation=90) == "2/0 AWG copper"
    hot: dict[str, Any] = {
        "device": "200 A",
        "whole_dwelling": True,
        "insulation": 90,
        "ambient": "45 C",
    }
    assert chosen(**hot) == "2/0 AWG copper"  # 195 x 0.87 = 169.7 A, 166 A needed
    assert chosen(**hot, bundled=4) == "4/0 AWG copper"


def test_a_device_too_small_for_its_load_is_refused_with_the_next() -> None:
    with pytest.raises(BadDescription, match=r"device: 50 A is too small.* 60 A\. Choose 60 A"):
        ask("conductor", metal="cu", continuous="48 A", device="50 A")


def test_where_no_size_passes_it_says_what_to_try() -> None:
    with pytest.raises(NotCovered, match=r"No copper conductor up to 600 kcmil.* Try more sets"):
        ask("conductor", metal="cu", device="600 A")
    assert chosen(device="600 A", sets=2) == "250 kcmil copper"  # 510 A


@pytest.mark.parametrize(
    ("plain", "says"),
    [
        ({}, "device: is missing"),
        ({"device": "20 A", "length": 50}, "length: 50 needs a number and its unit"),
        ({"device": "20 A", "length": "50 A"}, "length: 50 A is not a length"),
        ({"device": "20 A", "drop_limit": 100, "length": "9 ft"}, "drop_limit: 100 must be"),
        ({"device": "20 A", "phases": 2}, "phases: 2 must be 1 or 3"),
        ({"device": "20 A", "power_factor": 1.1}, "power_factor: 1.1 must be above 0"),
        ({"device": "20 A", "ground_metal": "fe"}, "ground_metal: 'fe' is not a metal"),
        ({"device": "20 A", "volts": "0 V"}, "volts: must be above zero"),
    ],
)
def test_a_mistake_names_its_field(plain: dict[str, Any], says: str) -> None:
    with pytest.raises(BadDescription) as fault:
        ask("conductor", **{"metal": "cu", **plain})
    assert says in fault.value.sentence
