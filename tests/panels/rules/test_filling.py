"""The next space, and what fits there."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panels.rules.filling import Size, fits, next_place, spaces_in_order
from panels.rules.layout import Frame, Half, Numbering, System, seat

EIGHT = Frame(
    spaces=8, numbering=Numbering.ACROSS, system=System.SPLIT_240, tandem=frozenset({5, 6, 7, 8})
)


def at(space, poles=1, half=None):
    return seat(EIGHT, space=space, poles=poles, half=half)


def test_down_the_column_first_then_the_other_then_from_the_top():
    assert spaces_in_order(EIGHT) == [1, 3, 5, 7, 2, 4, 6, 8]
    assert spaces_in_order(EIGHT, by_number=True) == [1, 2, 3, 4, 5, 6, 7, 8]
    assert next_place(EIGHT, []) == (1, None)
    assert next_place(EIGHT, [at(1, 2)], after=at(1, 2)) == (5, None)
    assert next_place(EIGHT, [at(1, 2)], after=at(1, 2), by_number=True) == (2, None)
    assert next_place(EIGHT, [at(7)], after=at(7)) == (2, None)
    assert next_place(EIGHT, [at(8)], after=at(8)) == (1, None)


def test_after_the_upper_half_of_a_tandem_comes_its_lower_half():
    upper, lower = at(5, half=Half.UPPER), at(5, half=Half.LOWER)
    assert next_place(EIGHT, [upper], after=upper) == (5, Half.LOWER)
    assert next_place(EIGHT, [upper, lower], after=lower) == (7, None)
    assert next_place(EIGHT, [upper, lower], after=upper) == (7, None)


def test_a_full_panel_has_no_next_space():
    assert next_place(EIGHT, [at(space) for space in range(1, 9)]) is None


@pytest.mark.parametrize(
    ("taken", "space", "half", "expected"),
    [
        ([], 1, None, {"1": "1", "2": "1,3", "t": None, "q": None}),
        ([], 5, None, {"1": "5", "2": "5,7", "t": "5a", "q": "5a,7b"}),
        ([], 5, Half.LOWER, {"1": "5", "2": "5,7", "t": "5b", "q": "5b,7a"}),
        ([(7, 1, None)], 5, None, {"1": "5", "2": None, "t": "5a", "q": None}),
        ([(5, 1, Half.UPPER)], 5, None, {"1": None, "2": None, "t": "5b", "q": "5b,7a"}),
        ([], 7, None, {"1": "7", "2": None, "t": "7a", "q": None}),
    ],
)
def test_what_fits_at_a_space(taken, space, half, expected):
    found = fits(EIGHT, [at(*one) for one in taken], space=space, half=half)
    assert {fit.size.value: fit.seat and fit.seat.text for fit in found} == expected
    assert all(fit.why for fit in found if fit.seat is None)


@given(st.lists(st.tuples(st.integers(1, 8), st.sampled_from(Size)), max_size=20))
def test_what_is_said_to_fit_never_overlaps(wishes):
    taken = []
    for space, size in wishes:
        fit = next((one for one in fits(EIGHT, taken, space=space) if one.size is size), None)
        if fit and fit.seat:
            assert not any(fit.seat.overlaps(one) for one in taken)
            taken.append(fit.seat)
