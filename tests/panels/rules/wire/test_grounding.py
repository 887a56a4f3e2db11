"""Is the ground of a circuit and of a service the one of the table, enlarged and capped?"""

from __future__ import annotations

from typing import Any

import pytest

from panels.rules.errors import BadDescription, NotCovered
from tests.panels.rules.wire.asked import ask, number


def equipment(**plain: Any) -> str:
    result = ask("equipment_grounding", **{"metal": "cu", **plain})
    return str(result.value("equipment_grounding"))


def test_it_is_enlarged_in_proportion_to_the_phases() -> None:
    assert equipment(device="200 A") == "6 AWG copper"
    assert equipment(device="200 A", size="4/0", enlarged_from="3/0") == "4 AWG copper"
    assert equipment(device="20 A", size="6", enlarged_from="12") == "6 AWG copper"
    assert equipment(device="20 A", size="12", enlarged_from="12") == "12 AWG copper"


def test_as_many_gauges_up_as_the_phases_is_in_proportion() -> None:
    # By the printed areas 10380 x 41740 / 16510 = 26242, of which 6 AWG lacks 2.
    assert equipment(device="40 A", size="4", enlarged_from="8") == "6 AWG copper"


def test_it_is_never_asked_to_be_larger_than_the_phases() -> None:
    assert equipment(device="15 A", size="8", enlarged_from="14") == "8 AWG copper"
    assert equipment(device="15 A", metal="al", size="8", enlarged_from="14") == "8 AWG aluminum"


@pytest.mark.parametrize(
    ("plain", "says"),
    [
        ({"enlarged_from": "12"}, "size: is missing"),
        ({"size": "12", "enlarged_from": "10"}, "enlarged_from: 10 AWG is larger than 12 AWG"),
        ({"device": "40 V"}, "device: 40 V is not a current"),
    ],
)
def test_a_mistake_names_its_field(plain: dict[str, Any], says: str) -> None:
    with pytest.raises(BadDescription) as fault:
        equipment(**{"device": "40 A", **plain})
    assert says in fault.value.sentence


def test_above_the_table_it_is_refused() -> None:
    with pytest.raises(NotCovered, match="above the table's last row"):
        equipment(device="6001 A")


def electrode(**plain: Any) -> tuple[str, ...]:
    result = ask("grounding_electrode", **plain)
    return tuple(
        str(result.value(key))
        for key in ("grounding_electrode", "to_rod", "to_concrete")
        if key in {line.key for line in result.lines}
    )


def test_the_caps_hold_it_down_and_never_raise_it() -> None:
    assert electrode(service_size="4/0", service_metal="cu") == (
        "2 AWG copper", "6 AWG copper", "4 AWG copper",
    )  # fmt: skip
    assert electrode(service_size="4", service_metal="cu") == ("8 AWG copper",) * 3


def test_parallel_sets_count_together() -> None:
    result = ask("grounding_electrode", service_size="350", service_metal="cu", sets=2)
    assert number(result, "service_area") == 700
    assert result.value("grounding_electrode") == "2/0 AWG copper"


def test_no_aluminum_is_offered_in_concrete() -> None:
    assert electrode(service_size="4/0", service_metal="cu", metal="al") == (
        "1/0 AWG aluminum", "4 AWG aluminum",
    )  # fmt: skip


def test_the_caps_say_that_nobody_read_them() -> None:
    result = ask("grounding_electrode", service_size="4/0", service_metal="cu")
    assert result.line("grounding_electrode").confirm == ""
    assert "from memory" in result.line("to_rod").confirm
