"""Does the neutral get its unbalance and its reductions once each (NFPA 70-2017, 220.61)?"""

from __future__ import annotations

import pytest

from tests.panels.rules.homes import (
    DRYER,
    RANGE,
    amperes,
    appliance,
    building,
    flat,
    home,
    va,
    worked,
)

TWO_LEGS = {"system": "1ph-208", "feeder": True}


def test_cooking_and_drying_put_70_percent_on_it_once() -> None:
    result = worked(home(RANGE, DRYER))
    assert va(result, "neutral") == pytest.approx(5100 + 0.70 * (8000 + 5000))


def test_above_200_amperes_70_percent_of_the_rest() -> None:
    lamps = {"kind": "other", "name": "Lamps", "nameplate": "60 kVA", "volts": 120}
    result = worked(home(lamps))
    before = (5100 + 60_000) / 240
    assert amperes(result, "neutral_unreduced") == pytest.approx(before)
    assert amperes(result, "neutral_current") == pytest.approx(200 + 0.70 * (before - 200))


def test_at_200_amperes_nothing_is_reduced() -> None:
    lamps = {"kind": "other", "name": "Lamps", "nameplate": "42900 VA", "volts": 120}
    assert amperes(worked(home(lamps)), "neutral_current") == pytest.approx(200)


def test_two_legs_of_a_wye_are_not_reduced_at_all() -> None:
    lamps = {"kind": "other", "name": "Lamps", "nameplate": "60 kVA", "volts": 120}
    result = worked(home(RANGE, lamps, service=TWO_LEGS))
    assert va(result, "neutral_cooking") == 8000
    expected = (5100 + 60_000) / 240 + 8000 / 208
    assert amperes(result, "neutral_current") == pytest.approx(expected)
    assert "220.61(C)(1)" in result.line("neutral_cooking").cite


def test_four_wires_of_a_wye_are_reduced() -> None:
    plain = building(flat(RANGE, count=40), service={"system": "3ph-208"})
    result = worked(plain)
    # 40 ranges: 14 between two phases, so 28 in the table = 43 kVA, x 3/2.
    assert va(result, "neutral_cooking") == pytest.approx(0.70 * 43_000 * 1.5)
    assert amperes(result, "neutral_current") < amperes(result, "neutral_unreduced")


def test_appliances_to_neutral_are_on_it_after_their_own_reduction() -> None:
    four = [appliance(1000, f"Appliance {n}") for n in range(4)]
    assert va(worked(home(*four)), "neutral") == 5100 + 3000


def test_leg_by_leg_needs_the_leg_of_every_load_to_neutral() -> None:
    known = appliance(1200, leg="A")
    keys = [line.key for line in worked(home(known)).lines]
    assert {"line_a", "line_b", "line_n"} <= set(keys)
    keys = [line.key for line in worked(home(known, appliance(900, "Disposer"))).lines]
    assert "line_a" not in keys


def test_the_fuller_leg_decides_the_rating() -> None:
    lopsided = {"kind": "other", "name": "Kiln", "nameplate": "13 kVA", "volts": 120, "leg": "A"}
    result = worked(home(lopsided))
    assert amperes(result, "line_a") == pytest.approx(5100 / 240 + 13_000 / 120)
    assert amperes(result, "line_b") == pytest.approx(5100 / 240)
    assert amperes(result, "line_n") == pytest.approx(5100 / 240 + 13_000 / 120)
    assert amperes(result, "rating") == 150
