"""How spaces are written on schedules: common practice, no source."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panels.rules.layout import Frame, Half, LayoutError, Numbering, System, seat
from panels.rules.places import Place, place_of, read_place, read_spaces

ACROSS = Frame(spaces=42, numbering=Numbering.ACROSS, system=System.SPLIT_240)
DOWN = Frame(spaces=42, numbering=Numbering.DOWN, system=System.SPLIT_240)
THREE = Frame(spaces=42, numbering=Numbering.ACROSS, system=System.WYE_208)


@pytest.mark.parametrize(
    ("frame", "text", "place"),
    [
        (ACROSS, "5", Place(space=5, poles=1)),
        (ACROSS, " #5 ", Place(space=5, poles=1)),
        (ACROSS, "1,3", Place(space=1, poles=2)),
        (ACROSS, "3, 1", Place(space=1, poles=2)),
        (ACROSS, "1/3", Place(space=1, poles=2)),
        (ACROSS, "1-3", Place(space=1, poles=2)),
        (ACROSS, "1 & 3", Place(space=1, poles=2)),
        (ACROSS, "1 and 3", Place(space=1, poles=2)),
        (DOWN, "1-2", Place(space=1, poles=2)),
        (THREE, "1-5", Place(space=1, poles=3)),
        (THREE, "2,4,6", Place(space=2, poles=3)),
        (ACROSS, "5A", Place(space=5, poles=1, half=Half.UPPER)),
        (ACROSS, "5b", Place(space=5, poles=1, half=Half.LOWER)),
        (ACROSS, "5b,7a", Place(space=5, poles=2, half=Half.LOWER)),
        (ACROSS, "7b/5a", Place(space=5, poles=2, half=Half.UPPER)),
    ],
)
def test_a_place_is_read_as_written(frame, text, place):
    assert read_place(frame, text) == place


@pytest.mark.parametrize(
    ("frame", "text", "words"),
    [
        (ACROSS, "1,4", "Spaces 1 and 4 are not neighbours in one column: .* takes 1 and 3"),
        (ACROSS, "1-4", "Spaces 1 and 4 are not neighbours"),
        (ACROSS, "1,2", "Spaces 1 and 2 are not neighbours"),
        (DOWN, "1,3", "a 2-pole breaker at 1 takes 1 and 2"),
        (ACROSS, "1,1", "not neighbours"),
        (ACROSS, "41,42", "no 2-pole breaker can start at 41"),
        (ACROSS, "43", "there is no space 43"),
        (ACROSS, "1,3,5,7", "one, two or three spaces"),
        (ACROSS, "5a,7a", "not a pair of a quad"),
        (ACROSS, "5a,9b", "not neighbours"),
        (ACROSS, "kitchen", "is not a space"),
        (ACROSS, "", "is not a space"),
    ],
)
def test_a_wrong_place_is_refused_in_words(frame, text, words):
    with pytest.raises(LayoutError, match=words):
        read_place(frame, text)


def test_no_spaces_at_all_is_refused():
    with pytest.raises(LayoutError, match="which space"):
        place_of(ACROSS, [])


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("", None),
        ("none", frozenset()),
        ("21-24", frozenset({21, 22, 23, 24})),
        ("13, 15, 17-19", frozenset({13, 15, 17, 18, 19})),
    ],
)
def test_tandem_spaces_are_read_as_marked(text, found):
    assert read_spaces(text, spaces=42) == found


@pytest.mark.parametrize("text", ["all", "5a", "1-99", "0-4", "21 to"])
def test_tandem_spaces_that_cannot_be_are_refused_at_their_field(text):
    with pytest.raises(LayoutError) as refused:
        read_spaces(text, spaces=42)
    assert set(refused.value.fields) == {"tandem_spaces"}


@given(
    st.sampled_from([ACROSS, DOWN, THREE]),
    st.integers(1, 42),
    st.integers(1, 3),
    st.sampled_from([None, *Half]),
)
def test_what_is_written_is_read_back(frame, space, poles, half):
    try:
        taken = seat(frame, space=space, poles=poles, half=half)
    except LayoutError:
        return
    assert read_place(frame, taken.text).seat(frame) == taken
