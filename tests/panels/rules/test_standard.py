"""Does the standard method avoid the mistakes people make with it? Values worked by hand."""

from __future__ import annotations

import pytest

from tests.panels.rules.homes import (
    DRYER,
    HEATER,
    RANGE,
    amperes,
    appliance,
    building,
    flat,
    home,
    va,
    worked,
)


def test_three_appliances_count_in_full_and_the_fourth_reduces_all_of_them() -> None:
    three = [HEATER, appliance(1200), appliance(900, "Disposer")]
    assert va(worked(home(*three)), "appliances") == 4500 + 1200 + 900
    four = [*three, appliance(1400, "Microwave")]
    assert va(worked(home(*four)), "appliances") == 0.75 * (4500 + 1200 + 900 + 1400)


def test_range_dryer_heat_and_air_conditioning_are_not_among_the_four() -> None:
    result = worked(
        home(
            HEATER,
            appliance(1200),
            appliance(900, "Disposer"),
            RANGE,
            DRYER,
            {"kind": "heating", "nameplate": "9 kW"},
            {"kind": "cooling", "nameplate": "20 A"},
            {"kind": "vehicle", "nameplate": "7200 VA"},
        )
    )
    assert va(result, "appliances") == 4500 + 1200 + 900


def test_several_of_one_appliance_count_as_several() -> None:
    assert va(worked(home(appliance(1000, count=4))), "appliances") == 3000


def test_a_small_dryer_counts_5000_va() -> None:
    result = worked(home({"kind": "dryer", "nameplate": "4200 W"}))
    assert va(result, "dryers") == 5000
    assert "At least 5,000 VA" in result.line("item_clothes_dryer").note


@pytest.mark.parametrize(
    ("area", "demand"),
    # 3 VA/ft2 + 4500 VA of circuits; 3000 + 35 % of 117 000 = 43 950 at the corner of the tiers.
    [(0, 3525), (38_500, 43_950), (38_501, 43_950.75), (40_000, 43_950 + 0.25 * 4500)],
)
def test_the_35_percent_tier_ends_at_120_000_va(area: float, demand: float) -> None:
    assert va(worked(home(area=area)), "lighting_demand") == pytest.approx(demand)


def test_heating_and_air_conditioning_are_not_added() -> None:
    heat = {"kind": "heating", "nameplate": "9 kW"}
    air = {"kind": "cooling", "nameplate": "20 A", "volts": 240}
    assert va(worked(home(heat, air)), "climate") == 9000
    smaller = {"kind": "heating", "nameplate": "4 kW"}
    assert va(worked(home(smaller, air)), "climate") == 4800


def test_a_heat_pump_heats_with_its_supplement_unless_locked_out() -> None:
    pump = {"kind": "heat_pump", "nameplate": "24 A", "volts": 240}
    supplement = {"kind": "supplement", "nameplate": "15 kW"}
    assert va(worked(home(pump, supplement)), "climate") == 5760 + 15_000
    locked = {**pump, "locked_out": True}
    assert va(worked(home(locked, supplement)), "climate") == 15_000
    assert va(worked(home(locked)), "climate") == 5760


def test_a_quarter_of_the_largest_motor_is_added_only_where_it_runs() -> None:
    pump = {"kind": "motor", "name": "Well pump", "nameplate": "8 A", "volts": 240}
    air = {"kind": "cooling", "nameplate": "20 A", "volts": 240}
    heat = {"kind": "heating", "nameplate": "9 kW"}
    assert va(worked(home(pump, air)), "motor") == 0.25 * 4800
    assert va(worked(home(pump, air, heat)), "motor") == 0.25 * 1920


def test_equipment_between_legs_puts_nothing_on_the_neutral() -> None:
    bare = va(worked(home()), "neutral")
    full = worked(
        home(
            HEATER,
            {"kind": "heating", "nameplate": "9 kW"},
            {"kind": "cooling", "nameplate": "6 A", "volts": 230},
            {"kind": "vehicle", "nameplate": "9600 VA"},
        )
    )
    assert va(full, "neutral") == bare == 5100


def test_a_load_at_its_rated_current_is_amperes_times_volts() -> None:
    result = worked(
        home({"kind": "cooling", "name": "Room unit", "nameplate": "6 A", "volts": 230})
    )
    assert va(result, "item_room_unit") == 1380
    assert result.line("item_room_unit").how == "6 A × 230 V"


def test_continuous_loads_raise_the_rating_and_not_the_load() -> None:
    charger = {"kind": "vehicle", "nameplate": "11 kVA"}
    plain = worked(home(RANGE, DRYER, charger))
    steady = worked(home(RANGE, DRYER, {**charger, "continuous": True}))
    assert va(steady, "load") == va(plain, "load") == 5100 + 8000 + 5000 + 11_000
    assert amperes(steady, "continuous") == pytest.approx((29_100 + 2750) / 240)
    assert (amperes(plain, "rating"), amperes(steady, "rating")) == (125, 150)


def test_what_is_left_on_a_chosen_service() -> None:
    result = worked(home(RANGE, service={"rating": "100 A"}))
    assert amperes(result, "left") == pytest.approx(100 - 13_100 / 240)


def test_from_2023_small_appliances_are_neither_counted_nor_reduced() -> None:
    large = [appliance(1000, f"Appliance {n}") for n in range(3)]
    small = appliance(400, "Fan")
    assert va(worked(home(*large, small), by="2020"), "appliances") == 0.75 * 3400
    assert va(worked(home(*large, small), by="2023"), "appliances") == 3400
    strong = {**small, "horsepower": 0.25}
    assert va(worked(home(*large, strong), by="2023"), "appliances") == 0.75 * 3400
    four = [*large, appliance(500, "Trash compactor"), small]
    assert va(worked(home(*four), by="2023"), "appliances") == 0.75 * 3500 + 400


def test_from_2020_a_smaller_cooling_load_is_compared_at_125_percent() -> None:
    heat = {"kind": "heating", "nameplate": "5 kW"}
    air = {"kind": "cooling", "nameplate": "4500 VA"}
    pump = {"kind": "motor", "name": "Well pump", "nameplate": "5000 VA", "volts": 240}
    beside = va(worked(home(pump)), "load")
    assert va(worked(home(pump, heat, air), by="2017"), "load") == beside + 5000
    assert va(worked(home(pump, heat, air), by="2020"), "load") == beside + 1.25 * 4500


def test_a_cooling_load_raised_already_is_not_raised_again_as_the_largest_motor() -> None:
    heat = {"kind": "heating", "nameplate": "10 kW"}
    units = {"kind": "cooling", "nameplate": "4500 VA", "count": 2}
    assert va(worked(home(heat, units), by="2020"), "load") == 5100 + 1.25 * 9000


def test_each_season_counts_with_the_quarter_of_its_largest_motor() -> None:
    heat = {"kind": "heating", "nameplate": "5 kW"}
    air = {"kind": "cooling", "nameplate": "4500 VA"}
    assert va(worked(home(heat, air)), "load") == 5100 + 4500 + 0.25 * 4500
    assert va(worked(home({**heat, "nameplate": "6 kW"}, air)), "load") == 5100 + 6000


def test_the_neutral_carries_what_runs_in_the_other_season_too() -> None:
    heat = {"kind": "heating", "nameplate": "9 kW"}
    room = {"kind": "cooling", "name": "Room unit", "nameplate": "1380 VA", "volts": 115}
    result = worked(home(heat, room))
    assert va(result, "load") == 5100 + 9000
    assert va(result, "neutral_climate") == 1380


def test_house_loads_are_added_in_full_to_a_building() -> None:
    lamp = {"kind": "other", "name": "Hall lighting", "nameplate": "2400 VA", "volts": 120}
    bare = building(flat(RANGE, count=4))
    assert va(worked({**bare, "house_loads": [lamp]}), "load") == va(worked(bare), "load") + 2400


def test_a_dwelling_without_laundry_circuit_is_cautioned() -> None:
    result = worked({**home(), "laundry_circuits": 0})
    assert any("laundry" in caution for caution in result.cautions)
    assert not any("laundry" in caution for caution in worked(home()).cautions)


def test_two_loads_of_one_name_keep_their_own_lines() -> None:
    result = worked(home(appliance(500, "Fan"), appliance(700, "Fan")))
    assert (va(result, "item_fan"), va(result, "item_fan_2")) == (500, 700)


def test_vehicle_supply_of_the_house_counts_as_the_edition_says() -> None:
    charger = {"kind": "vehicle", "nameplate": "5000 VA"}
    plain = building(flat(count=3), house_loads=[charger])
    for by, counted in (("2017", 5000), ("2023", 7200), ("2026", 5000)):
        assert va(worked(plain, by=by), "house") == counted
    unknown = building(flat(count=3), house_loads=[{"kind": "vehicle"}])
    assert va(worked(unknown, by="2023"), "house") == 7200


def test_three_phase_equipment_of_a_building_draws_the_root_of_three() -> None:
    lift = {"kind": "motor", "name": "Lift", "nameplate": "20 A", "volts": 208, "phases": 3}
    plain = building(flat(count=3), house_loads=[lift], service={"system": "3ph-208"})
    assert va(worked(plain), "item_lift") == pytest.approx(20 * 208 * 3**0.5)
