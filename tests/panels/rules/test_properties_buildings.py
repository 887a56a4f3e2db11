"""What must hold however the same premises are written down, and for buildings of several.

Also the places where the code itself steps down, each shown to be there: elsewhere more never
asks for less (`test_properties`).
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panels.editions import EDITIONS
from panels.rules.working import Result
from tests.panels.rules.homes import appliance, building, flat, home, va, worked
from tests.panels.rules.test_properties import CHECKED, never_less, number

METHODS = ("standard", "optional", "existing")
COOKED = {"kind": "range", "nameplate": "12 kW"}
HEATED = {"kind": "heating", "nameplate": "4 kW"}
editions = st.sampled_from(list(EDITIONS))
counts = st.integers(3, 40)
areas = st.integers(300, 3000)
tried = settings(max_examples=25, deadline=None)


def houses(count: int, area: float, *loads: dict[str, Any], **more: Any) -> dict[str, Any]:
    return building(flat(COOKED, HEATED, *loads, count=count, area=area), **more)


def of(plain: dict[str, Any], method: str, by: str) -> Result:
    return worked(plain, method, by)


@tried
@given(by=editions, method=st.sampled_from(["standard", "multifamily"]), count=counts,
       ends=st.tuples(areas, areas).map(sorted))  # fmt: skip
def test_larger_dwellings_never_ask_for_less(
    by: str, method: str, count: int, ends: list[int]
) -> None:
    less, more = (of(houses(count, area), method, by) for area in ends)
    never_less(less, more)


@tried
@given(by=editions, method=st.sampled_from(["standard", "multifamily", "two_family"]),
       size=st.integers(1, 30_000), area=areas)  # fmt: skip
def test_a_load_of_the_house_never_asks_for_less(
    by: str, method: str, size: int, area: int
) -> None:
    count = 2 if method == "two_family" else 5
    pump = {"kind": "other", "name": "Pump house", "nameplate": f"{size} VA", "volts": 240}
    never_less(
        of(houses(count, area), method, by), of(houses(count, area, house_loads=[pump]), method, by)
    )


@tried
@given(by=editions, method=st.sampled_from(["standard", "multifamily"]), count=counts, area=areas)
def test_dwellings_in_two_rows_are_the_same_dwellings(
    by: str, method: str, count: int, area: int
) -> None:
    """And their order does not matter."""
    whole = of(houses(count, area), method, by)
    some = flat(COOKED, HEATED, count=count - 1, area=area)
    one = flat(COOKED, HEATED, count=1, area=area)
    for rows in ([some, one], [one, some]):
        parts = of(building(*rows), method, by)
        for key in CHECKED:
            assert number(parts, key) == pytest.approx(number(whole, key)), key


@tried
@given(by=editions, method=st.sampled_from(METHODS), count=st.integers(1, 6),
       kind=st.sampled_from(["range", "dryer", "water_heater", "heating", "vehicle", "cooling"]),
       apart=st.booleans())  # fmt: skip
def test_several_of_a_kind_are_as_many_single_ones(
    by: str, method: str, count: int, kind: str, apart: bool
) -> None:
    one = {"kind": kind, "nameplate": "9000 VA", "volts": 240}
    if kind == "heating":
        one["controlled_separately"] = apart
    together = of(home({**one, "count": count}), method, by)
    singly = of(home(*[one] * count), method, by)
    for key in CHECKED:
        # Heaters on one control are one unit: five of one row are, five rows are not.
        if kind != "heating" or apart:
            assert number(singly, key) == pytest.approx(number(together, key)), key


@tried
@given(by=editions, method=st.sampled_from(METHODS), area=st.integers(1, 900),
       kva=st.floats(0.1, 20).map(lambda number: round(number, 3)))  # fmt: skip
def test_the_unit_it_is_written_in_does_not_matter(
    by: str, method: str, area: int, kva: float
) -> None:
    heater = {"kind": "water_heater"}
    written = [
        home({**heater, "nameplate": text}) | {"floor_area": f"{area} m2"}
        for text in (f"{kva} kVA", f"{kva * 1000:.6f} VA", f"{kva} kW", f"{kva * 1000:.6f} W")
    ]
    feet = home({**heater, "nameplate": f"{kva} kVA"}, area=area / 0.3048**2)
    first, *others = (of(plain, method, by) for plain in [*written, feet])
    for other in others:
        for key in CHECKED:
            assert number(other, key) == pytest.approx(number(first, key), rel=1e-5), key


@tried
@given(by=editions, factor=st.integers(2, 5), loads=st.lists(st.integers(1, 9000), max_size=4))
def test_what_counts_in_full_grows_in_proportion(by: str, factor: int, loads: list[int]) -> None:
    """Loads without a demand factor: so many times the nameplates, so many times the load."""

    def full(times: int) -> float:
        rows = [
            {"kind": "other", "name": f"Load {n}", "nameplate": f"{va * times} VA", "volts": 240}
            for n, va in enumerate(loads)
        ]
        return va(of(home(*rows), "standard", by), "load") - va(of(home(), "standard", by), "load")

    assert full(factor) == pytest.approx(factor * full(1))


def load(*loads: dict[str, Any], method: str = "standard", by: str = "2017") -> float:
    return va(worked(home(*loads), method, by), "load")


def test_the_fourth_appliance_brings_75_percent_for_all_four() -> None:
    """Table-like step of 220.53: from three of 2000 VA, 6000, to four with one of 500, 4875."""
    three = [appliance(2000, f"Appliance {n}") for n in range(3)]
    assert load(*three) - load(*three, appliance(500, "Fourth")) == 6000 - 4875
    # Above the step it rises again.
    assert load(*three, appliance(500, "Fourth")) < load(*three, appliance(900, "Fourth"))


def test_the_fourth_heater_with_its_own_control_brings_40_percent_for_all() -> None:
    """220.82(C)(4), (5): three of 3 kW at 65 % are 5850, four of them at 40 % 4800."""
    heaters = {"kind": "heating", "nameplate": "3 kW", "controlled_separately": True}
    three, four = ({**heaters, "count": count} for count in (3, 4))
    assert load(three, method="optional") - load(four, method="optional") == pytest.approx(1050)


def test_the_fourth_heater_beside_new_cooling_goes_through_the_tiers() -> None:
    """220.83(B) names fewer than four: three of 3 kW in full, four at 40 %."""
    air = {"kind": "cooling", "nameplate": "10 A", "volts": 240, "new": True}
    heaters = {"kind": "heating", "nameplate": "3 kW", "controlled_separately": True}
    three, four = ({**heaters, "count": count} for count in (3, 4))
    assert load(air, four, method="existing") < load(air, three, method="existing")


def test_the_fifth_dryer_brings_85_percent_for_all_five_and_still_more() -> None:
    dryers = {"kind": "dryer", "nameplate": "5 kW"}
    four, five = (va(worked(home({**dryers, "count": n}), "dryers"), "dryers") for n in (4, 5))
    assert (four, five) == (20_000, 21_250)


def test_a_range_of_three_and_a_half_kw_falls_into_a_lower_column() -> None:
    """Two of 3.4 kW: column A 75 %, 5100; two of 3.5 kW: column B 65 %, 4550."""

    def two(kw: float) -> float:
        ranges = {"kind": "range", "nameplate": f"{kw} kW", "count": 2}
        return va(worked(home(ranges), "cooking"), "cooking")

    assert (two(3.4), two(3.5)) == (pytest.approx(5100), pytest.approx(4550))


def all_of(count: int) -> float:
    return va(worked(houses(count, 800), "multifamily"), "load")


@pytest.mark.parametrize("count", [5, 7, 10, 11, 13, 15, 17, 20, 21, 30])
def test_another_dwelling_is_a_smaller_part_of_each_and_still_no_less(count: int) -> None:
    """Table 220.84 falls by the count at these rows, not so far that all ask for less."""
    assert all_of(count) < all_of(count + 1) < all_of(count) * (count + 1) / count


@pytest.mark.parametrize("count", [33, 36, 38, 42, 45, 50, 55, 61])
def test_at_some_rows_of_the_table_one_dwelling_more_asks_for_less(count: int) -> None:
    """33 x 31 % is more than 34 x 30 %: the code steps down there, and so does the answer."""
    assert all_of(count + 1) < all_of(count)
