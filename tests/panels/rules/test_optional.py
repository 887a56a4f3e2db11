"""Does the optional method take nameplates, and the right share of heating? Values by hand."""

from __future__ import annotations

import pytest

from contractor.errors import Refused
from tests.panels.rules.homes import DRYER, HEATER, RANGE, amperes, appliance, home, va, worked


def climate(*loads: dict[str, object]) -> float:
    return va(worked(home(*loads), "optional"), "climate")


def test_the_range_counts_its_nameplate_and_not_8_kw() -> None:
    result = worked(home(RANGE, DRYER), "optional")
    assert va(result, "general_connected") == 9000 + 12_000 + 5000
    assert va(result, "general") == 10_000 + 0.40 * 16_000


def test_a_small_dryer_counts_its_nameplate_here() -> None:
    result = worked(home({"kind": "dryer", "nameplate": "4200 W"}), "optional")
    assert va(result, "general_connected") == 9000 + 4200


def test_below_the_first_tier_everything_counts_in_full() -> None:
    assert va(worked(home(), "optional"), "load") == 9000


@pytest.mark.parametrize(
    ("count", "share"), [(1, 0.65), (3, 0.65), (4, 0.40), (5, 0.40)]
)  # fmt: skip
def test_four_heaters_controlled_separately_count_40_percent(count: int, share: float) -> None:
    heaters = {"kind": "heating", "nameplate": "2 kW", "controlled_separately": True}
    assert climate({**heaters, "count": count}) == pytest.approx(2000 * count * share)


def test_heaters_on_one_control_are_one_unit() -> None:
    assert climate({"kind": "heating", "nameplate": "2 kW", "count": 5}) == pytest.approx(6500)


def test_thermal_storage_counts_in_full() -> None:
    assert climate({"kind": "thermal_storage", "nameplate": "9 kW"}) == 9000


def test_air_conditioning_counts_where_it_is_larger() -> None:
    air = {"kind": "cooling", "nameplate": "30 A", "volts": 240}
    assert climate(air, {"kind": "heating", "nameplate": "10 kW"}) == 7200
    assert climate(air, {"kind": "heating", "nameplate": "12 kW"}) == pytest.approx(7800)


def test_no_motor_is_raised_in_this_method() -> None:
    pump = {"kind": "motor", "name": "Well pump", "nameplate": "8 A", "volts": 240}
    result = worked(home(pump), "optional")
    assert va(result, "load") == 10_000 + 0.40 * (9000 + 1920 - 10_000)


def test_the_neutral_is_that_of_the_standard_method() -> None:
    loads = [RANGE, DRYER, HEATER, appliance(1200)]
    standard, other = worked(home(*loads)), worked(home(*loads), "optional")
    assert va(other, "neutral") == va(standard, "neutral") == 5100 + 5600 + 3500 + 1200


def test_the_neutral_never_carries_more_than_the_load() -> None:
    lamps = {"kind": "other", "name": "Lamps", "nameplate": "60 kVA", "volts": 120}
    result = worked(home(lamps), "optional")
    assert va(result, "load") == pytest.approx(10_000 + 0.40 * 59_000)
    assert va(result, "neutral") == pytest.approx(va(result, "load"))


def test_it_is_for_100_amperes_and_three_wires() -> None:
    with pytest.raises(Refused, match=r"at least 100 A \(220.82\(A\)\)"):
        worked(home(service={"rating": "60 A"}), "optional")
    with pytest.raises(Refused, match="three phases"):
        worked(home(service={"system": "3ph-208"}), "optional")
    assert amperes(worked(home(service={"rating": "100 A"}), "optional"), "rating") == 100


@pytest.mark.parametrize(
    ("by", "load"),
    # 9000 VA of lighting and circuits (7500 from 2026), a 12 kW range, a 5000 VA charger.
    [
        ("2017", 10_000 + 0.40 * 16_000),
        ("2020", 10_000 + 0.40 * 16_000),
        ("2023", 10_000 + 0.40 * 18_200),
        ("2026", 8000 + 0.40 * 11_500 + 5000),
    ],
)
def test_vehicle_supply_by_edition(by: str, load: float) -> None:
    charger = {"kind": "vehicle", "nameplate": "5000 VA"}
    assert va(worked(home(RANGE, charger), "optional", by), "load") == pytest.approx(load)


def test_where_vehicle_supply_is_counted_says_how_it_is_known() -> None:
    charger = {"kind": "vehicle", "nameplate": "9600 VA"}
    within = worked(home(charger), "optional", "2017").line("item_vehicle_supply_equipment")
    assert "220.82(B): known only from a summary; confirm" in within.confirm
    outside = worked(home(charger), "optional", "2026").line("vehicles")
    assert "120.82: known only from a summary; confirm" in outside.confirm


@pytest.mark.parametrize(
    ("by", "expected"), [("2017", None), ("2020", None), ("2023", 7200), ("2026", 7200)]
)
def test_vehicle_supply_of_unknown_nameplate(by: str, expected: float | None) -> None:
    plain = home({"kind": "vehicle"})
    if expected is None:
        with pytest.raises(Refused, match="no value for an unknown nameplate"):
            worked(plain, "standard", by)
    else:
        assert va(worked(plain, "standard", by), "vehicles") == expected
