"""Is the cooking table read by its columns and notes? Values by hand from NFPA 70-2017, T220.55."""

from __future__ import annotations

import pytest

from contractor.errors import Refused
from tests.panels.rules.homes import amperes, building, flat, home, va, worked


def ranges(kw: float, count: int = 1, kind: str = "range") -> dict[str, object]:
    return {"kind": kind, "name": f"{kw} kW", "nameplate": f"{kw} kW", "count": count}


def cooking(*loads: dict[str, object], **more: object) -> float:
    return va(worked(home(*loads, **more), "cooking"), "cooking")


@pytest.mark.parametrize(
    ("count", "kva"),
    [(1, 8), (2, 11), (5, 20), (12, 27), (25, 40), (26, 41), (40, 55), (41, 55.75), (61, 70.75)],
)
def test_column_c_for_ranges_of_12_kw(count: int, kva: float) -> None:
    assert cooking(ranges(12, count)) == pytest.approx(kva * 1000)


@pytest.mark.parametrize(
    ("kw", "kva"),
    # Note 1: 5 % for each kW above 12, and for a major fraction of one.
    [(12.4, 8), (12.5, 8.4), (13, 8.4), (13.4, 8.4), (13.5, 8.8), (14, 8.8), (27, 14)],
)
def test_note_1_counts_a_major_fraction_as_a_whole(kw: float, kva: float) -> None:
    assert cooking(ranges(kw)) == pytest.approx(kva * 1000)


def test_note_2_averages_with_12_kw_for_the_smaller_ones() -> None:
    # (12 + 16 + 20) / 3 = 16, four steps of 5 % on 14 kW; the 10 kW range is taken at 12.
    assert cooking(ranges(10), ranges(16), ranges(20)) == pytest.approx(14_000 * 1.20)


@pytest.mark.parametrize(
    ("loads", "kva"),
    [
        ([ranges(3.4)], 3.4 * 0.80),
        ([ranges(3.5)], 3.5 * 0.80),
        ([ranges(3.4, 2)], 6.8 * 0.75),
        ([ranges(3.5, 2)], 7.0 * 0.65),
        ([ranges(4, 2, "oven"), ranges(5.1, 1, "cooktop")], 13.1 * 0.55),
        # Column by column: two in A at 75 %, one in B at 80 %.
        ([ranges(3, 2, "oven"), ranges(6, 1, "cooktop")], 6 * 0.75 + 6 * 0.80),
        # Where column C asks for less, it is taken: 2 x 8.7 x 65 % = 11.31, column C 11.
        ([ranges(8.7, 2)], 11.0),
    ],
)
def test_note_3_takes_columns_a_and_b_where_they_ask_for_less(
    loads: list[dict[str, object]], kva: float
) -> None:
    assert cooking(*loads) == pytest.approx(kva * 1000)


def test_note_3_leaves_the_larger_ones_in_column_c() -> None:
    # One 5 kW cooktop at 80 % and one 12 kW range at 8 kW ask for 12; column C for two asks for 11.
    assert cooking(ranges(5, 1, "cooktop"), ranges(12)) == pytest.approx(11_000)
    # A 2 kW oven at 80 % beside a 12 kW range: 1.6 + 8 = 9.6 is less than 11.
    assert cooking(ranges(2, 1, "oven"), ranges(12)) == pytest.approx(9_600)


def test_above_27_kw_the_table_ends() -> None:
    assert cooking(ranges(27)) == pytest.approx(14_000)
    with pytest.raises(Refused, match=r"27,000 VA.*note 1"):
        cooking(ranges(27.1))


def test_up_to_1750_w_it_is_an_appliance() -> None:
    result = worked(home(ranges(1.75, 1, "cooktop")))
    assert va(result, "appliances") == 1750
    assert "cooking" not in [line.key for line in result.lines]
    assert va(worked(home(ranges(1.76, 1, "cooktop"))), "cooking") == pytest.approx(1760 * 0.8)


@pytest.mark.parametrize(
    ("count", "between_two_phases"),
    # Twice the most between any two phases: 3 -> 2, 4 -> 4, 10 -> 8, 20 -> 14.
    [(3, 11_000), (4, 17_000), (10, 23_000), (20, 29_000)],
)
def test_three_phases_read_the_table_for_twice_the_most_between_two(
    count: int, between_two_phases: float
) -> None:
    service = {"system": "3ph-208"}
    assert cooking(ranges(12, count), service=service) == pytest.approx(between_two_phases * 1.5)


def test_the_ranges_of_a_building_are_counted_together() -> None:
    result = worked(building(flat(ranges(12), count=7), flat(ranges(12), count=5)), "cooking")
    assert va(result, "cooking") == 27_000
    assert amperes(result, "current") == pytest.approx(112.5)


def test_cooking_puts_70_percent_on_the_neutral_and_heating_none() -> None:
    result = worked(home(ranges(12), {"kind": "heating", "nameplate": "5 kW"}))
    assert va(result, "neutral_cooking") == 5600
    assert va(result, "neutral") == 5100 + 5600
