"""Is a table ever read outside its rows, or with a hole in it?"""

from __future__ import annotations

import pytest

from contractor.units import Q
from panels.rules.errors import NotCovered
from panels.rules.tables import Band, Bands, Tiers


def bands(*rows: tuple[int, int | None, float]) -> Bands[float]:
    return Bands(rows=tuple(Band(first=a, last=b, value=value) for a, b, value in rows))


def test_a_row_holds_from_its_first_through_its_last() -> None:
    table = bands((3, 5, 0.45), (6, 7, 0.44), (8, None, 0.43))
    assert [table.at(n, cite="T") for n in (3, 5, 6, 7, 8, 900)] == [
        0.45, 0.45, 0.44, 0.44, 0.43, 0.43,
    ]  # fmt: skip


@pytest.mark.parametrize("count", [2, 0, -1, 8])
def test_outside_the_rows_it_is_refused_with_the_section(count: int) -> None:
    with pytest.raises(NotCovered, match=r"3 to 7.*no row.*\(Table 9\)"):
        bands((3, 5, 0.45), (6, 7, 0.44)).at(count, cite="Table 9")


@pytest.mark.parametrize("second", [(7, 9, 0.4), (5, 9, 0.4)])
def test_rows_that_leave_a_gap_or_overlap_make_no_table(second: tuple[int, int, float]) -> None:
    with pytest.raises(ValueError, match="do not join"):
        bands((3, 5, 0.45), second)


@pytest.mark.parametrize(
    "slices",
    [
        ((Q(3000.0, "VA"), 1.0),),
        ((None, 1.0), (None, 0.4)),
        ((Q(3000.0, "VA"), 1.0), (Q(2000.0, "VA"), 0.5), (None, 0.4)),
        ((Q(3000.0, "VA"), 1.0), (None, 0.0)),
        ((Q(3000.0, "VA"), 1.5), (None, 0.4)),
    ],
)
def test_slices_rise_and_the_last_takes_the_rest(slices: object) -> None:
    with pytest.raises(ValueError, match="slice"):
        Tiers(slices=slices)  # type: ignore[arg-type]


def test_only_the_slices_reached_are_shown() -> None:
    tiers = Tiers(slices=((Q(10.0, "kVA"), 1.0), (None, 0.40)))
    assert tiers.apply(Q(9000.0, "VA"))[1] == "9,000 VA × 100 %"
    demand, how = tiers.apply(Q(29_700.0, "VA"))
    assert demand.m_as("VA") == 17_880
    assert how == "10,000 VA × 100 % + 19,700 VA × 40 %"
