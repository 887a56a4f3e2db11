"""Is a source large enough by the optional-standby rule, and if not, what are the ways out?"""

from __future__ import annotations

from typing import Any

import pytest

from panels.editions import EDITIONS, edition
from panels.rules.errors import BadDescription
from panels.rules.questions import answer
from panels.rules.working import Result
from tests.panels.rules.homes import DRYER, HEATER, RANGE, home

PUMP = {"name": "Well pump", "running": "2.4 kVA"}
COOKING = {"name": "Range", "running": "8 kVA", "shed_order": 1}


def sized(year: str = "2017", **given: Any) -> Result:
    plain = {"generator": {"rating": "9 kVA"}, "transfer": "manual", **given}
    return answer("standby_size", plain, edition(year))


def test_by_manual_transfer_all_that_runs_at_one_time_counts() -> None:
    """702.4(B)(1) [V17]."""
    result = sized(loads=[PUMP, COOKING])
    assert result.value("load").m_as("kVA") == pytest.approx(10.4)
    assert result.line("load").cite == "702.4(B)(1)"
    assert result.value("fits") == "no"
    assert result.value("larger").m_as("kVA") == pytest.approx(10.4)
    assert result.line("shed_1").how == "without Range: fits"


def test_what_is_large_enough_has_no_ways_out() -> None:
    result = sized(loads=[PUMP])
    assert result.value("fits") == "yes"
    assert not [line for line in result.lines if line.key in ("larger", "set_point")]


def test_by_automatic_transfer_the_whole_calculated_load_counts() -> None:
    """702.4(B)(2)(a) [V17]; the load by the method named."""
    premises = home(RANGE, DRYER, HEATER)
    result = sized(transfer="automatic", premises=premises, method_of_load="standard")
    whole = answer("standard", premises, edition("2017")).value("load")
    assert result.value("load").m_as("VA") == pytest.approx(whole.m_as("VA"))
    assert result.line("load").cite == "702.4(B)(2)(a)"


def test_under_load_management_only_what_it_connects_counts() -> None:
    """702.4(B)(2)(b) [V17]."""
    result = sized(transfer="automatic", calculated="24 kVA", managed_at="36 A")
    assert result.value("load").m_as("kVA") == pytest.approx(8.64)
    assert result.line("load").cite == "702.4(B)(2)(b)"
    assert result.value("fits") == "yes"


def test_a_whole_load_too_large_may_be_managed_down_to_the_source() -> None:
    result = sized(transfer="automatic", calculated="24 kVA")
    assert result.value("set_point").m_as("A") == 37  # 9 kVA at 240 V: 37.5 A, rounded down
    again = sized(transfer="automatic", managed_at="37 A")
    assert again.value("fits") == "yes"


def test_a_larger_one_is_named_before_derating_and_then_fits() -> None:
    high = {"rating": "9 kVA", "altitude": "3000 ft"}
    result = sized(loads=[PUMP, COOKING], generator=high)
    plate = result.value("larger").m_as("kVA")
    assert plate == pytest.approx(10.4 / 0.895)
    fits = sized(loads=[PUMP, COOKING], generator={**high, "rating": f"{plate + 0.01:.2f} kVA"})
    assert fits.value("fits") == "yes"


def test_generator_conductors_carry_115_percent_of_the_nameplate() -> None:
    """445.13 [M]: 12 kVA at 240 V, 50 A."""
    line = sized(loads=[PUMP], generator={"rating": "12 kVA"}).line("conductors")
    assert line.value.m_as("A") == pytest.approx(57.5)
    assert "from memory" in line.confirm


def test_storage_gives_what_its_inverter_does() -> None:
    storage = {"usable": "10 kWh", "inverter": "7.6 kW"}
    result = sized(generator=None, storage=storage, loads=[PUMP])
    assert result.value("left").m_as("kVA") == pytest.approx(5.2)


@pytest.mark.parametrize("year", sorted(EDITIONS))
def test_what_was_not_read_asks_to_be_confirmed(year: str) -> None:
    result = sized(year, loads=[PUMP])
    assert bool(result.line("load").confirm) is (year != "2017")


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({}, "loads"),
        ({"transfer": "by hand", "loads": [PUMP]}, "transfer"),
        ({"transfer": "automatic"}, "calculated"),
        ({"loads": [PUMP], "method_of_load": "cooking"}, "method_of_load"),
        ({"transfer": "automatic", "calculated": "24 kW"}, "calculated"),
        ({"transfer": "automatic", "managed_at": "3 ft"}, "managed_at"),
        ({"loads": [PUMP], "generator": None}, "generator"),
        ({"loads": [PUMP], "system": "3ph-600"}, "system"),
        ({"loads": [{"name": "Whole house", "running": "59 kWh"}]}, "loads[1].running"),
    ],
)
def test_a_question_that_cannot_be_answered_names_its_field(
    given: dict[str, Any], field: str
) -> None:
    with pytest.raises(BadDescription) as caught:
        sized(**given)
    assert caught.value.field == field
