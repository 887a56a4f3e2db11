"""Of loads that never run together, does only the largest count (220.60)? Values by hand."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panels.editions import EDITIONS, edition
from panels.rules.questions import answer
from tests.panels.rules.homes import building, flat, home, va, worked


def kiln(size: float, name: str, **more: Any) -> dict[str, Any]:
    return {"kind": "other", "name": name, "nameplate": f"{size} VA", "volts": 240, **more}


def test_only_the_largest_of_a_group_counts() -> None:
    pair = [kiln(9000, "Kiln", one_of="shed"), kiln(6000, "Saw", one_of="shed")]
    result = worked(home(*pair))
    assert va(result, "load") == 5100 + 9000
    assert va(result, "one_of_shed") == 9000
    assert "Kiln counts, the others do not" in result.line("one_of_shed").note
    assert result.line("one_of_shed").cite == "220.60"


def test_different_groups_do_not_touch_each_other() -> None:
    loads = [kiln(9000, "Kiln", one_of="shed"), kiln(6000, "Saw", one_of="barn"), kiln(500, "Fan")]
    assert va(worked(home(*loads)), "load") == 5100 + 15_500


@pytest.mark.parametrize(("by", "counted"), [("2017", 9000), ("2020", 1.25 * 8000)])
def test_a_motor_that_is_not_the_largest_is_compared_raised_from_2020(
    by: str, counted: float
) -> None:
    loads = [
        kiln(9000, "Kiln", one_of="shed"),
        kiln(8000, "Pump", one_of="shed") | {"kind": "motor"},
    ]
    result = worked(home(*loads), by=by)
    assert va(result, "one_of_shed") == counted
    # Raised, it is not raised again as the largest motor.
    assert va(result, "load") == 5100 + counted


def test_in_a_building_each_dwelling_and_the_house_have_groups_of_their_own() -> None:
    pair = [kiln(9000, "Kiln", one_of="x"), kiln(6000, "Saw", one_of="x")]
    plain = building(flat(*pair, count=2), house_loads=pair)
    assert va(worked(plain), "load") == pytest.approx(va(worked(building(flat(count=2))), "load")
                                                      + 2 * 9000 + 9000)  # fmt: skip


def test_a_shop_has_groups_too() -> None:
    plain = {
        "occupancy": "store",
        "floor_area": "1000 ft2",
        "signs": 0,
        "loads": [kiln(9000, "Kiln", one_of="x"), kiln(6000, "Saw", one_of="x")],
    }
    assert va(answer("shop", plain, edition("2017")), "load") == 3000 + 9000


@settings(max_examples=60, deadline=None)
@given(
    by=st.sampled_from(list(EDITIONS)),
    method=st.sampled_from(["standard", "optional", "existing"]),
    sizes=st.lists(st.integers(1, 20_000), min_size=2, max_size=5),
    motors=st.lists(st.booleans(), min_size=5, max_size=5),
)
def test_a_group_never_counts_more_than_all_of_it_nor_less_than_its_largest(
    by: str, method: str, sizes: list[int], motors: list[bool]
) -> None:
    loads = [
        kiln(size, f"Load {n}") | ({"kind": "motor"} if motors[n] else {})
        for n, size in enumerate(sizes)
    ]
    apart = va(worked(home(*loads), method, by), "load")
    grouped = worked(home(*(load | {"one_of": "x"} for load in loads)), method, by)
    largest = max(loads, key=lambda load: float(load["nameplate"].split()[0]))
    alone = va(worked(home({**largest, "kind": "other"}), method, by), "load")
    assert alone - 1e-6 <= va(grouped, "load") <= max(apart, 1.25 * alone) + 1e-6
