"""Is the next standard rating found in the list, and nowhere else (NFPA 70-2017, 240.6(A))?"""

from __future__ import annotations

import pytest

from contractor.units import Q
from panels.editions import edition
from panels.rules.errors import NotCovered
from panels.rules.service import next_rating
from tests.panels.rules.homes import amperes, home, worked


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


def test_a_one_family_service_is_100_amperes_and_a_feeder_need_not_be() -> None:
    small = home(area=500)
    assert amperes(worked(small), "rating") == 100
    assert amperes(worked(small | {"service": {"feeder": True}}), "rating") == 20
