"""Is the next standard rating found in the list, and nowhere else (NFPA 70-2017, 240.6(A))?"""

from __future__ import annotations

import pytest

from contractor.units import Q
from panels.editions import edition
from panels.rules.errors import NotCovered
from panels.rules.service import next_rating
from tests.panels.rules.homes import RANGE, amperes, building, flat, home, worked


@pytest.mark.parametrize(
    ("current", "rating"),
    [(0, 15), (15, 15), (15.1, 20), (52, 60), (100, 100), (100.4, 110), (145, 150), (201, 225),
     (251, 300), (5001, 6000), (6000, 6000)],
)  # fmt: skip
def test_the_standard_rating_at_or_next_above(current: float, rating: float) -> None:
    assert next_rating(Q(current, "A"), edition("2017")).m_as("A") == rating


def test_above_the_list_it_is_refused() -> None:
    with pytest.raises(NotCovered, match=r"6000 A \(240.6\(A\)\)"):
        next_rating(Q(6000.5, "A"), edition("2017"))


@pytest.mark.parametrize(
    ("kva", "rating", "strict"), [(24.11, 100, 110), (24.12, 110, None), (24.0, 100, None)]
)
def test_less_than_half_an_ampere_may_be_dropped_and_is_told(
    kva: float, rating: float, strict: float | None
) -> None:
    load = {"kind": "other", "nameplate": f"{kva - 5.1:.2f} kVA", "volts": 240}
    result = worked(home(load))
    assert amperes(result, "rating") == rating
    line = result.line("rating")
    assert (f"strictly it would be {strict} A" in line.note) is (strict is not None)
    assert ("220.5(B): from memory" in line.confirm) is (strict is not None)


def test_a_rating_that_is_too_small_leaves_less_than_nothing() -> None:
    load = {"kind": "other", "nameplate": "30 kVA", "volts": 240}
    result = worked(home(load, service={"rating": "100 A"}))
    assert amperes(result, "left") == pytest.approx(100 - 35_100 / 240)
    assert result.line("left").note == "The load is above the rating."
    assert result.line("left").label == "Not enough on 100 A"


def test_a_one_family_service_is_100_amperes_and_a_feeder_need_not_be() -> None:
    small = home(area=500)
    assert amperes(worked(small), "rating") == 100
    assert amperes(worked(small | {"service": {"feeder": True}}), "rating") == 20


def test_what_is_held_down_is_continuous_no_further_than_its_set_point() -> None:
    """5100 VA and 40 A x 240 V held at 20 A: a quarter of 4800 more, not of 9600."""
    charger = {"kind": "vehicle", "nameplate": "40 A", "managed": True, "continuous": True}
    result = worked(home(charger, managed_at="20 A"), by="2023")
    assert amperes(result, "continuous") == pytest.approx((5100 + 4800 + 1200) / 240)


def test_a_building_above_the_largest_rating_still_has_its_load() -> None:
    result = worked(building(flat(RANGE, count=900)))
    assert result.value("load").m_as("VA") > 6000 * 240
    assert result.value("rating") == "above 6000 A"
