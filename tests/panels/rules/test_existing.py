"""What may be added to an existing dwelling (NFPA 70-2017, 220.83)? Values by hand."""

from __future__ import annotations

import pytest

from contractor.errors import Refused
from panels.editions import edition
from panels.rules import calculate
from panels.rules.adoption import Amendment, amended
from panels.rules.description import from_plain
from tests.panels.rules.homes import DRYER, HEATER, RANGE, home, va, worked

# 9000 VA of lighting and circuits + 12 000 + 5000 + 4500 = 30 500; 8000 + 40 % of 22 500.
BASE, GENERAL = (RANGE, DRYER, HEATER), 8000 + 0.40 * 22_500
AIR = {"kind": "cooling", "nameplate": "25 A", "volts": 240}


def test_the_first_8_kva_count_in_full_and_the_rest_40_percent() -> None:
    assert va(worked(home(*BASE), "existing"), "load") == GENERAL


def test_an_added_appliance_goes_through_the_tiers() -> None:
    charger = {"kind": "vehicle", "nameplate": "9600 VA", "new": True}
    result = worked(home(*BASE, charger), "existing")
    assert va(result, "load") == pytest.approx(GENERAL + 0.40 * 9600)


def test_added_air_conditioning_counts_in_full() -> None:
    result = worked(home(*BASE, {**AIR, "new": True}), "existing")
    assert va(result, "climate") == 6000
    assert va(result, "load") == pytest.approx(GENERAL + 6000)
    assert result.line("climate").cite == "220.83(B)"


def test_the_larger_of_heating_and_air_conditioning_counts() -> None:
    heat = {"kind": "heating", "nameplate": "10 kW"}
    result = worked(home(*BASE, heat, {**AIR, "new": True}), "existing")
    assert va(result, "load") == pytest.approx(GENERAL + 10_000)


def test_a_small_old_service_is_what_it_is_for() -> None:
    assert va(worked(home(service={"rating": "60 A"}), "existing"), "load") == 8400
    with pytest.raises(Refused, match=r"three-wire supply \(220.83\)"):
        worked(home(service={"system": "3ph-208"}), "existing")


def test_four_separate_heaters_go_through_the_tiers_beside_added_air_conditioning() -> None:
    heat = {"kind": "heating", "nameplate": "2 kW", "count": 4, "controlled_separately": True}
    result = worked(home(*BASE, heat, {**AIR, "new": True}), "existing")
    assert va(result, "load") == pytest.approx(GENERAL + 0.40 * 8000 + 6000)


def test_heating_that_stays_counts_in_full_unless_the_place_says_otherwise() -> None:
    plain = home(*BASE, {"kind": "heating", "nameplate": "10 kW"})
    result = worked(plain, "existing")
    assert va(result, "load") == pytest.approx(GENERAL + 10_000)
    assert "from memory; confirm" in result.line("climate").confirm
    local = Amendment(
        field="existing.untouched_within_tiers", value=True, source="Form of the town"
    )
    amended_result = calculate("existing", from_plain(plain), amended(edition("2017"), [local]))
    assert va(amended_result, "load") == pytest.approx(GENERAL + 0.40 * 10_000)
