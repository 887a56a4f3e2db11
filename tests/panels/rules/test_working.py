"""Does a saved result show what the fresh one showed?"""

from __future__ import annotations

import json

import pytest

from contractor.units import Q
from panels.rules.quantities import show
from panels.rules.sourced import Mark, Sourced
from panels.rules.working import Result, Section, from_plain, line, to_plain
from tests.panels.rules.homes import DRYER, HEATER, RANGE, appliance, home, worked


@pytest.mark.parametrize("method", ["standard", "optional", "existing"])
def test_a_saved_result_comes_back_whole(method: str) -> None:
    result = worked(home(RANGE, DRYER, HEATER, appliance(1200)), method, "2026")
    saved = json.dumps(to_plain(result))
    assert from_plain(json.loads(saved)) == result


def test_the_saved_result_carries_units_and_what_is_shown() -> None:
    plain = to_plain(worked(home(RANGE, DRYER)))
    lines = {line["key"]: line for section in plain["sections"] for line in section["lines"]}
    assert lines["load"]["value"] == {"value": 18_100.0, "unit": "VA"}
    assert lines["load"]["shown"] == "18,100 VA"
    assert lines["circuits_15"]["value"] == 3


def test_every_line_has_its_own_key_and_every_rule_its_section() -> None:
    for method in ("standard", "optional", "existing"):
        result = worked(home(RANGE, RANGE, DRYER, HEATER, appliance(1200)), method)
        keys = [line.key for line in result.lines]
        assert len(keys) == len(set(keys))
        sums = {"lighting_connected", "general_connected", "load", "current", "neutral_current",
                "others", "item_dishwasher", "item_range", "item_range_2", "item_water_heater",
                "item_clothes_dryer"}  # fmt: skip
        assert not [line.key for line in result.lines if not line.cite and line.key not in sums]


def test_a_value_nobody_read_says_so_and_one_that_was_read_does_not() -> None:
    heat = {"kind": "heating", "nameplate": "5 kW"}
    air = {"kind": "cooling", "nameplate": "10 A", "volts": 240}
    assert worked(home(RANGE, DRYER, heat, air)).confirm == ()
    assert worked(home(RANGE, DRYER, heat), "standard", "2020").confirm == ()
    told = worked(home(RANGE, DRYER, heat, air), "standard", "2020").confirm
    assert told == ("220.60: from memory; confirm against the printed code.",)


def test_an_unknown_line_names_those_there_are() -> None:
    with pytest.raises(KeyError, match="there are lighting, small_appliance"):
        worked(home()).value("lod")


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Q(18_600.0, "VA"), "18,600 VA"),
        (Q(7205.25, "VA"), "7,205.25 VA"),
        (Q(77.45, "A"), "77.5 A"),
        (Q(100.0, "A"), "100 A"),
        (Q(3.0, "VA/ft**2"), "3 VA/ft²"),
        (2, "2"),
    ],
)
def test_values_read_as_people_write_them(value: object, text: str) -> None:
    assert show(value) == text  # type: ignore[arg-type]


def test_each_thing_to_confirm_is_said_once_and_a_line_tells_it_in_few_words() -> None:
    memory = [
        Sourced(value=1.0, cite=cite, mark=Mark.MEMORY) for cite in ("220.60", "220.61", "220.60")
    ]
    one, two = line("a", "A", 1, *memory), line("b", "B", 2, memory[0])
    result = Result(
        method="m", method_title="M", edition="e", edition_title="E", basis="",
        sections=(Section(title="S", lines=(one, two)),),
    )  # fmt: skip
    assert one.doubt == two.doubt == "from memory; confirm"
    assert result.confirm == (
        "220.60: from memory; confirm against the printed code.",
        "220.61: from memory; confirm against the printed code.",
    )
    assert line("c", "C", 3).doubt == ""
