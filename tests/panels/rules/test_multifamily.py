"""Do three or more dwellings come out by NFPA 70-2017, 220.84? Values by hand."""

from __future__ import annotations

import pytest

from contractor.errors import Refused
from tests.panels.rules.homes import HEATER, RANGE, amperes, building, flat, home, va, worked

HEAT = {"kind": "heating", "nameplate": "6 kW"}
AIR = {"kind": "cooling", "nameplate": "20 A", "volts": 240}
STOVE = {"kind": "range", "nameplate": "8 kW"}
SMALL_HEATER = {"kind": "water_heater", "nameplate": "2.5 kW"}
# 840 ft2 at 3 VA + 3000 + 8000 + 2500 + 6000 = 22 020 VA in each.
EACH = 22_020


@pytest.mark.parametrize(
    ("count", "percent"),
    [
        (3, 45), (5, 45), (6, 44), (7, 44), (10, 43), (11, 42), (13, 41), (20, 38), (21, 37),
        (30, 33), (31, 32), (40, 28), (45, 27), (50, 26), (55, 25), (61, 24), (62, 23), (200, 23),
    ],
)  # fmt: skip
def test_the_connected_load_times_the_factor_for_their_number(count: int, percent: float) -> None:
    result = worked(building(flat(STOVE, SMALL_HEATER, HEAT, count=count)), "multifamily")
    assert va(result, "connected") == EACH * count
    assert va(result, "load") == pytest.approx(EACH * count * percent / 100)


def test_the_larger_of_heating_and_air_conditioning_is_connected() -> None:
    result = worked(building(flat(STOVE, SMALL_HEATER, HEAT, AIR, count=20)), "multifamily")
    assert va(result, "connected") == EACH * 20


def test_the_current_on_208_volts() -> None:
    plain = building(flat(STOVE, SMALL_HEATER, HEAT, count=20), service={"system": "3ph-208"})
    load = EACH * 20 * 0.38
    result = worked(plain, "multifamily")
    assert amperes(result, "current") == pytest.approx(load / (3**0.5 * 208))


def test_house_loads_are_not_reduced() -> None:
    lamp = {"kind": "other", "name": "Hall lighting", "nameplate": "2400 VA", "volts": 120}
    pump = {"kind": "motor", "name": "Sump pump", "nameplate": "1200 VA", "volts": 120}
    units = flat(STOVE, SMALL_HEATER, HEAT, count=20)
    result = worked(building(units, house_loads=[lamp, pump]), "multifamily")
    assert va(result, "load") == pytest.approx(EACH * 20 * 0.38 + 3600 + 0.25 * 1200)


def test_without_electric_cooking_the_lesser_of_two_ways_counts() -> None:
    result = worked(building(flat(SMALL_HEATER, HEAT, count=20)), "multifamily")
    part_iv = (EACH - 8000 + 8000) * 20 * 0.38
    part_iii = 3000 + 0.35 * 107_400 + 0.75 * 50_000 + 120_000
    assert part_iv == pytest.approx(167_352)
    assert part_iii == pytest.approx(198_090)
    assert va(result, "load") == pytest.approx(part_iv)
    gas_heat = worked(building(flat({**AIR, "nameplate": "5 A"}, count=20)), "multifamily")
    # Part III: 40 590 + 20 x 1200 + 300; Part IV: 38 % of 20 x (5520 + 1200 + 8000).
    assert va(gas_heat, "load") == pytest.approx(40_590 + 24_000 + 300)


def test_what_it_is_not_for() -> None:
    with pytest.raises(Refused, match=r"3 or more dwellings \(220.84\(A\)\); here are 2"):
        worked(building(flat(STOVE, HEAT, count=2)), "multifamily")
    with pytest.raises(Refused, match="heating or cooling"):
        worked(building(flat(STOVE, count=4)), "multifamily")
    with pytest.raises(Refused, match="in some dwellings, not in all"):
        worked(building(flat(STOVE, HEAT, count=4), flat(HEAT, count=4)), "multifamily")
    with pytest.raises(Refused, match="this is one dwelling"):
        worked(home(STOVE, HEAT), "multifamily")


def test_two_dwellings_take_the_lesser_of_part_three_and_three_identical_ones() -> None:
    # 2000 ft2, 12 kW range, 4.5 kW water heater, 10 kW heat in each.
    unit = flat(RANGE, HEATER, {**HEAT, "nameplate": "10 kW"}, count=2, area=2000)
    part_iii = 3000 + 0.35 * 15_000 + 11_000 + 9000 + 20_000
    three = 3 * (6000 + 3000 + 12_000 + 4500 + 10_000) * 0.45
    result = worked(building(unit), "two_family")
    assert va(result, "part_three") == part_iii == 48_250
    assert va(result, "three_dwellings") == pytest.approx(three)
    assert va(result, "load") == pytest.approx(min(part_iii, three)) == pytest.approx(47_925)


def test_two_unlike_dwellings_are_taken_as_three_of_the_larger() -> None:
    large = flat(RANGE, HEATER, HEAT, count=1, area=2000)
    small = flat(RANGE, HEAT, count=1, area=840)
    result = worked(building(small, large), "two_family")
    three = 3 * (6000 + 3000 + 12_000 + 4500 + 6000) * 0.45
    assert va(result, "three_dwellings") == pytest.approx(three)


def test_three_dwellings_are_not_two() -> None:
    with pytest.raises(Refused, match="two dwellings on one feeder"):
        worked(building(flat(RANGE, HEAT, count=3)), "two_family")
