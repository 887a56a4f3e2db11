"""What deserves a second look. Standard ratings: NFPA 70-2017, 240.6(A) [V17]; protection of a
panelboard: 408.36 [V17]; a breaker over its bus: common practice, no source."""

from __future__ import annotations

import pytest

from panels.models import Circuit, Panel
from panels.queries.glance import second_look

NO_SOURCE = "common practice, no source"


def seen(*, rating_a: int = 20, bus_a: int = 200, main_a: int | None = 200, feeds=None):
    """Rows that were never saved: a glance asks the database nothing."""
    panel = Panel(name="Main panel", rating_a=bus_a, bus_a=bus_a, main_a=main_a, spaces=42)
    circuit = Circuit(panel=panel, space=1, poles=1, rating_a=rating_a, name="Load")
    circuit._state.fields_cache["feeds"] = feeds
    return [(one is not None, finding.cite) for one, finding in second_look(panel, [circuit])]


@pytest.mark.parametrize("rating", [15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 110, 225, 6000])
def test_a_standard_rating_is_passed_over(rating):
    assert seen(rating_a=rating, bus_a=6000, main_a=6000) == []


@pytest.mark.parametrize("rating", [1, 10, 16, 33, 55, 120, 5999])
def test_any_other_rating_is_told_with_its_section(rating):
    assert seen(rating_a=rating, bus_a=6000, main_a=6000) == [(True, "NFPA 70-2017, 240.6(A)")]


def test_a_breaker_over_its_bus_is_told():
    assert seen(rating_a=200) == []
    assert seen(rating_a=225) == [(True, NO_SOURCE)]


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
    fed = Panel(name="Shop panel", rating_a=bus, bus_a=bus, main_a=main, spaces=12)
    wanted = [(True, "NFPA 70-2017, 408.36")] if told else []
    assert seen(rating_a=rating, feeds=fed) == wanted


def test_a_main_over_its_bus_or_of_an_odd_rating_is_told():
    assert seen(bus_a=100, main_a=None) == []
    assert seen(bus_a=100, main_a=125) == [(False, "NFPA 70-2017, 408.36")]
    assert seen(bus_a=200, main_a=190) == [(False, "NFPA 70-2017, 240.6(A)")]
