"""What deserves a second look. Standard ratings: NFPA 70-2017, 240.6(A) [V17]; protection of a
panelboard: 408.36 [V17]; a breaker over its bus: common practice, no source."""

from __future__ import annotations

import pytest

from panels.editions import edition
from panels.rules.notices import of_breaker, of_panel

STANDARD = edition("2017").ratings.standard


@pytest.mark.parametrize("rating", [15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 110, 225, 6000])
def test_a_standard_rating_is_passed_over(rating):
    assert of_breaker(rating_a=rating, bus_a=6000, standard=STANDARD) == ()


@pytest.mark.parametrize("rating", [1, 10, 16, 33, 55, 120, 5999])
def test_any_other_rating_is_told_with_its_section(rating):
    (notice,) = of_breaker(rating_a=rating, bus_a=6000, standard=STANDARD)
    assert (notice.code, notice.cite) == ("rating_not_standard", "240.6(A)")


def test_a_breaker_over_its_bus_is_told():
    assert of_breaker(rating_a=200, bus_a=200, standard=STANDARD) == ()
    (notice,) = of_breaker(rating_a=225, bus_a=200, standard=STANDARD)
    assert (notice.code, notice.cite) == ("breaker_over_bus", "common practice, no source")


@pytest.mark.parametrize(
    ("rating", "bus", "main", "told"),
    [
        (100, 100, None, False),
        (125, 100, None, True),
        (125, 100, 100, False),
        (125, 100, 125, True),
    ],
)
def test_a_fed_panel_needs_protection_at_its_bus(rating, bus, main, told):
    found = of_breaker(
        rating_a=rating, bus_a=200, standard=STANDARD, fed_bus_a=bus, fed_main_a=main
    )
    assert [notice.cite for notice in found] == (["408.36"] if told else [])


def test_a_main_over_its_bus_is_told():
    assert of_panel(main_a=None, bus_a=100, standard=STANDARD) == ()
    assert of_panel(main_a=100, bus_a=100, standard=STANDARD) == ()
    (notice,) = of_panel(main_a=125, bus_a=100, standard=STANDARD)
    assert notice.cite == "408.36"
