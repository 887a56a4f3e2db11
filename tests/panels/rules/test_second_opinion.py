"""Do the load rules agree with a second working of them, written from the sources alone?"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panels.rules.working import Result
from tests.panels.rules import second_opinion
from tests.panels.rules.homes import building, worked

EDITIONS = st.sampled_from(["2017", "2020", "2023", "2026"])
tried = settings(max_examples=60, deadline=None)


def pieces(kind: str, ratings: list[int], most: int, volts: tuple[int, ...] = (240,)) -> Any:
    one = st.fixed_dictionaries(
        {"kind": st.just(kind), "va": st.sampled_from(ratings), "volts": st.sampled_from(volts)}
    )
    return st.lists(one, max_size=most)


COOKING = [2000, 3000, 3500, 4000, 8000, 8750, 9000, 12000, 12499, 12500, 16600, 27000]
GENERAL = (
    *(pieces(kind, COOKING, 2) for kind in second_opinion.COOKING),
    pieces("dryer", [4000, 5000, 5600, 8000], 2),
    pieces("appliance", [300, 499, 500, 800, 1200], 5, (120, 240)),
    pieces("water_heater", [2500, 4500], 2),
    pieces("vehicle", [5000, 7200, 11520], 2),
    pieces("other", [1000, 3000], 1, (120, 240)),
)
COOLING = pieces("cooling", [1380, 5000, 7200], 2)
ROOM_HEAT = pieces("heating", [1500, 3000, 10000], 5).map(
    lambda loads: [{**one, "apart": True} for one in loads]
)
HEAT_PUMP = st.lists(
    st.just({"kind": "heat_pump", "va": 5760, "volts": 240}), min_size=1, max_size=1
).flatmap(lambda pump: pieces("supplement", [9000, 15000], 1).map(lambda extra: pump + extra))


def va(result: Result, key: str) -> float:
    value: Any = result.value(key)
    return float(value.m_as("VA"))


def homes(*parts: Any) -> Any:
    return st.fixed_dictionaries(
        {
            "area": st.sampled_from([600, 1500, 2000, 5000, 45000]),
            "small": st.integers(2, 4),
            "laundry": st.integers(0, 2),
            "loads": st.tuples(*parts).map(lambda lists: [one for some in lists for one in some]),
        }
    )


def plain(home: dict[str, Any], *new: str) -> dict[str, Any]:
    return {
        "floor_area": f"{home['area']} ft2",
        "small_appliance_circuits": home["small"],
        "laundry_circuits": home["laundry"],
        "loads": [
            {
                "kind": one["kind"],
                "nameplate": f"{one['va']} VA",
                "volts": one["volts"],
                "controlled_separately": bool(one.get("apart")),
                "new": one["kind"] in new,
            }
            for one in home["loads"]
        ],
    }


@tried
@given(home=homes(*GENERAL, COOLING, st.one_of(ROOM_HEAT, HEAT_PUMP)), by=EDITIONS)
def test_the_standard_method_agrees(home: dict[str, Any], by: str) -> None:
    result = worked(plain(home), "standard", by)
    second = second_opinion.standard(home, by)
    ours = {key: va(result, key) for key in ("load", "neutral", "lighting_demand")}
    assert ours == pytest.approx({key: second[key] for key in ours}, abs=0.01)


@tried
@given(home=homes(*GENERAL, COOLING, st.one_of(ROOM_HEAT, HEAT_PUMP)), by=EDITIONS)
def test_the_optional_method_agrees(home: dict[str, Any], by: str) -> None:
    sized = {**plain(home), "service": {"rating": "200 A"}}
    ours = va(worked(sized, "optional", by), "load")
    assert ours == pytest.approx(second_opinion.optional(home, by), abs=0.01)


@tried
@given(
    home=homes(*GENERAL, COOLING, ROOM_HEAT), by=EDITIONS, new=st.sampled_from(["cooling", "dryer"])
)
def test_the_method_for_an_existing_dwelling_agrees(
    home: dict[str, Any], by: str, new: str
) -> None:
    home["loads"].append({"kind": new, "va": 5000, "volts": 240})
    ours = va(worked(plain(home, new), "existing", by), "load")
    second = second_opinion.existing(home, by, new_climate=new == "cooling")
    assert ours == pytest.approx(second, abs=0.01)


@tried
@given(home=homes(*GENERAL, COOLING, ROOM_HEAT), by=EDITIONS, count=st.integers(3, 80))
def test_the_optional_method_for_apartments_agrees(
    home: dict[str, Any], by: str, count: int
) -> None:
    home["loads"] += [
        {"kind": "range", "va": 9000, "volts": 240}, {"kind": "cooling", "va": 2000, "volts": 240}
    ]  # fmt: skip
    ours = worked(building({"count": count, **plain(home)}), "multifamily", by)
    second = second_opinion.apartments(count, home, by)
    assert va(ours, "load") == pytest.approx(second, abs=0.01)


@pytest.mark.parametrize("kilowatts", [8, 12, 12.4, 12.5, 14, 16, 22.5, 27])
@pytest.mark.parametrize("count", [1, 2, 5, 24, 25, 26, 30, 31, 40, 41, 60, 61, 120])
def test_so_many_ranges_agree(kilowatts: float, count: int) -> None:
    load = {"kind": "range", "nameplate": f"{kilowatts} kW", "count": count}
    ours = va(worked(plain_of(load), "cooking"), "cooking")
    one = {"kind": "range", "va": kilowatts * 1000}
    assert ours == pytest.approx(second_opinion.cooking([one] * count), abs=0.01)


@pytest.mark.parametrize("count", [*range(1, 50), 100])
def test_so_many_dryers_agree(count: int) -> None:
    load = {"kind": "dryer", "nameplate": "5.5 kW", "count": count}
    ours = va(worked(plain_of(load), "dryers"), "dryers")
    assert ours == pytest.approx(second_opinion.dryers([{"va": 5500}] * count), abs=0.01)


def plain_of(load: dict[str, Any]) -> dict[str, Any]:
    return {**plain({"area": 0, "small": 2, "laundry": 0, "loads": []}), "loads": [load]}
