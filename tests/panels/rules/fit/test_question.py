"""Is it told by every method whether an addition fits, and do the ways out hold?"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from contractor.errors import Refused
from panels.editions import EDITIONS, edition
from panels.rules.fit.out import VEHICLE_STEPS
from panels.rules.questions import answer
from panels.rules.working import Result
from tests.panels.rules.homes import DRYER, HEATER, RANGE, amperes, building, flat, home, va

CHARGER = {"kind": "vehicle", "nameplate": "48 A", "volts": 240}
METERED = {"demand": "9.1 kVA", "days": 365, "interval": "15 min", "renewable": False}
METHODS = ("standard", "optional", "existing")


def asked(
    *loads: dict[str, Any], rating: str = "100 A", by: str = "2023",
    addition: dict[str, Any] | None = None, **more: Any,
) -> Result:  # fmt: skip
    premises = home(*loads, service={"rating": rating})
    plain = {"premises": premises, "addition": addition or CHARGER, **more}
    return answer("fit", plain, edition(by))


def left(result: Result, key: str) -> float:
    return amperes(result, f"{key}_left")


def test_every_method_that_applies_stands_beside_the_others() -> None:
    """Base 9000 + 12 000 + 5000 + 4500 = 30 500. Standard: 5100 + 8000 + 5000 + 4500 + 11 520
    = 34 120. Optional: 10 000 + 40 % of 32 020 = 22 808. Existing: 8000 + 40 % of 34 020
    = 21 608. Metered: 1.25 x 9100 + 11 520 = 22 895."""
    result = asked(RANGE, DRYER, HEATER, metered=METERED)
    loads = {"standard": 34_120, "optional": 22_808, "existing": 21_608, "metered": 22_895}
    for key, load in loads.items():
        assert va(result, f"{key}_load") == pytest.approx(load)
        assert left(result, key) == pytest.approx(100 - load / 240)
    assert result.value("verdict") == "fits"
    assert result.line("verdict").how == "by 3 of 4 methods that apply"
    assert result.value("optional_none") == "none needed"


def test_what_is_there_already_is_told_without_the_addition() -> None:
    result = asked(RANGE, DRYER, HEATER)
    assert va(result, "standard_before") == 5100 + 8000 + 5000 + 4500


def test_the_set_point_is_the_last_whole_ampere_that_fits() -> None:
    """22 600 VA without it: 24 000 - 22 600 = 1400 VA = 5.8 A between legs, so 5 A."""
    result = asked(RANGE, DRYER, HEATER)
    assert amperes(result, "standard_set_point") == 5
    assert "does not charge below 6 A" in result.line("standard_set_point").note


def test_before_2023_no_set_point_is_offered() -> None:
    result = asked(RANGE, DRYER, HEATER, by="2020")
    assert result.value("standard_set_point") == "not by this method"
    assert "does not let a set point" in result.line("standard_set_point").note


def test_the_smaller_vehicle_supply_is_one_of_the_common_steps() -> None:
    """In 2017 at its nameplate: 1400 VA are left, no step; on 125 A 7400 VA: 24 A = 5760 VA."""
    assert asked(RANGE, DRYER, HEATER, by="2017").value("standard_largest") == "none"
    result = asked(RANGE, DRYER, HEATER, rating="125 A", by="2017")
    assert amperes(result, "standard_largest") == 24
    assert "common practice, no source" in result.line("standard_largest").note


def test_from_2023_a_smaller_vehicle_supply_still_counts_7200_va() -> None:
    result = asked(RANGE, DRYER, HEATER, rating="110 A")
    assert result.value("standard_largest") == "none"
    assert "Each counts 7,200 VA" in result.line("standard_largest").note


def test_the_service_that_carries_it_comes_with_its_conductors() -> None:
    """34 120 VA = 142.2 A: 150 A, whose conductors need 83 %."""
    result = asked(RANGE, DRYER, HEATER)
    assert amperes(result, "standard_service") == 150
    assert "124.5 A" in result.line("standard_service").note
    assert "copper 1 AWG or aluminum 2/0 AWG" in result.line("standard_service").note


def test_a_heat_pump_is_new_heating_by_the_existing_method() -> None:
    pump = {"kind": "heat_pump", "nameplate": "24 A", "volts": 240}
    result = asked(RANGE, DRYER, HEATER, addition=pump)
    assert va(result, "existing_load") == pytest.approx(8000 + 0.4 * 22_500 + 5760)
    assert result.line("existing_left").cite == "220.83(B)"
    assert result.line("existing_left").note == "With new heating or cooling."


def test_a_method_that_does_not_apply_says_why() -> None:
    result = asked(RANGE, rating="60 A")
    assert result.value("optional_objection") == "does not apply"
    assert "at least 100 A" in result.line("optional_objection").note
    unseen = {**METERED, "days": 10}
    told = asked(RANGE, metered=unseen).line("metered_objection").note
    assert "10 days are on record" in told


def test_a_building_is_asked_by_its_own_methods() -> None:
    premises = building(flat(RANGE, count=4), service={"rating": "200 A"})
    result = answer("fit", {"premises": premises, "addition": CHARGER}, edition("2023"))
    assert {line.key for line in result.lines} >= {"standard_left", "multifamily_objection"}
    assert "optional_left" not in {line.key for line in result.lines}


def test_a_shop_is_asked_by_the_general_rules() -> None:
    premises = {"occupancy": "store", "floor_area": "2000 ft2", "service": {"rating": "60 A"}}
    result = answer("fit", {"premises": premises, "addition": CHARGER}, edition("2023"))
    # 3800 + 1200 of sign; 25 % of 1200 and of 11 520 more for the rating.
    needed = (3800 + 1200 * 1.25 + 11_520 * 1.25) / 240
    assert left(result, "shop") == pytest.approx(60 - needed)
    held = amperes(result, "shop_set_point")
    assert held == int((60 * 240 - 3800 - 1500) / 1.25 / 240)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"premises": home()}, "premises.service.rating"),
        ({"premises": home(area=-1)}, "premises.floor_area"),
        ({"addition": {"kind": "vehicle", "nameplate": "48 ft"}}, "addition.nameplate"),
        ({"addition": None}, "addition"),
        ({"metered": {**METERED, "demand": "3 kWh"}}, "metered.demand"),
        ({"metering": 3}, "metering"),
    ],
)
def test_a_fault_names_its_field(change: dict[str, Any], field: str) -> None:
    plain = {"premises": home(service={"rating": "100 A"}), "addition": CHARGER, **change}
    with pytest.raises(Refused) as caught:
        answer("fit", plain, edition("2023"))
    assert field in (caught.value.fields or {})


nameplates = st.integers(5, 100)
kinds = st.sampled_from(["vehicle", "heat_pump", "water_heater", "other", "cooling"])


def with_set_point(point: float, rating: str, by: str, load: dict[str, Any], key: str) -> float:
    """Left by the method asked directly, with the load held down at that point."""
    plain = home(
        RANGE, DRYER, HEATER, {**load, "managed": True, "new": True},
        service={"rating": rating}, managed_at=f"{point:g} A",
    )  # fmt: skip
    return amperes(answer(key, plain, edition(by)), "left")


@settings(max_examples=20, deadline=None)
@given(
    by=st.sampled_from(["2023", "2026"]),
    size=nameplates,
    kind=kinds,
    rating=st.sampled_from(["100 A", "125 A", "150 A"]),
    key=st.sampled_from(METHODS),
)
def test_at_the_set_point_it_fits_and_one_ampere_above_it_does_not(
    by: str, size: int, kind: str, rating: str, key: str
) -> None:
    load = {"kind": kind, "nameplate": f"{size} A", "volts": 240}
    result = asked(RANGE, DRYER, HEATER, rating=rating, by=by, addition=load)
    found = {line.key: line.value for line in result.lines}.get(f"{key}_set_point")
    assume(found is not None and not isinstance(found, str | int | float))
    point = amperes(result, f"{key}_set_point")
    assert with_set_point(point, rating, by, load, key) >= -1e-9
    if point + 1 < size:
        assert with_set_point(point + 1, rating, by, load, key) < 0


@settings(max_examples=20, deadline=None)
@given(
    by=st.sampled_from(list(EDITIONS)), size=nameplates, kind=kinds, key=st.sampled_from(METHODS)
)
def test_what_is_called_smaller_fits_and_the_next_larger_does_not(
    by: str, size: int, kind: str, key: str
) -> None:
    load = {"kind": kind, "nameplate": f"{size} A", "volts": 240}
    result = asked(RANGE, DRYER, HEATER, by=by, addition=load)
    found = {line.key: line.value for line in result.lines}.get(f"{key}_largest")
    assume(found is not None and not isinstance(found, str | int | float))
    largest = int(amperes(result, f"{key}_largest"))
    assert largest < size
    fitting = asked(RANGE, DRYER, HEATER, by=by, addition={**load, "nameplate": f"{largest} A"})
    assert left(fitting, key) >= -1e-9
    steps = VEHICLE_STEPS if kind == "vehicle" else range(1, size)
    above = [step for step in steps if largest < step < size]
    if above:
        next_up = {**load, "nameplate": f"{min(above)} A"}
        assert left(asked(RANGE, DRYER, HEATER, by=by, addition=next_up), key) < 0


@settings(max_examples=15, deadline=None)
@given(by=st.sampled_from(list(EDITIONS)), size=nameplates, key=st.sampled_from(METHODS))
def test_the_service_named_carries_it(by: str, size: int, key: str) -> None:
    load = {"kind": "other", "nameplate": f"{size} A", "volts": 240}
    result = asked(RANGE, DRYER, HEATER, by=by, addition=load)
    found = {line.key: line for line in result.lines}.get(f"{key}_service")
    assume(found is not None)
    rating = amperes(result, f"{key}_service")
    # A fraction of an ampere may be dropped (220.5(B)).
    again = asked(RANGE, DRYER, HEATER, by=by, addition=load, rating=f"{rating:g} A")
    assert left(again, key) > -0.5
