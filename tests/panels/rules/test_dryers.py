"""Are dryers counted by their number? Factors by hand from NFPA 70-2017, Table 220.54."""

from __future__ import annotations

import pytest

from tests.panels.rules.homes import home, va, worked


def dryers(count: int, kva: float = 5, **more: object) -> float:
    load = {"kind": "dryer", "nameplate": f"{kva} kVA", "count": count}
    return va(worked(home(load, **more), "dryers"), "dryers")


@pytest.mark.parametrize(
    ("count", "percent"),
    [
        (1, 100), (4, 100), (5, 85), (6, 75), (7, 65), (8, 60), (9, 55), (10, 50), (11, 47),
        (12, 46), (20, 38), (23, 35), (24, 34.5), (30, 31.5), (42, 25.5), (43, 25), (100, 25),
    ],
)  # fmt: skip
def test_the_factor_for_their_number(count: int, percent: float) -> None:
    assert dryers(count) == pytest.approx(count * 5000 * percent / 100)


def test_each_counts_its_nameplate_or_5000_va() -> None:
    assert dryers(1, 4) == 5000
    assert dryers(1, 5.5) == 5500


def test_three_phases_read_the_table_for_twice_the_most_between_two() -> None:
    # Ten dryers: four between two phases, so eight at 60 % = 24 kVA, half of it on each phase.
    assert dryers(10, service={"system": "3ph-208"}) == pytest.approx(8 * 5000 * 0.60 * 1.5)
