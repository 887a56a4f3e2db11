"""Where a breaker sits. Odd left, even right, legs alternating down a column: common practice,
no source; the quad's pairs likewise."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panels.rules.layout import Frame, Half, LayoutError, Numbering, System, seat, span

ACROSS = Frame(spaces=42, numbering=Numbering.ACROSS, system=System.SPLIT_240)
DOWN = Frame(spaces=24, numbering=Numbering.DOWN, system=System.SPLIT_240)
SINGLE = Frame(spaces=8, numbering=Numbering.SINGLE, system=System.SPLIT_240)
THREE = Frame(spaces=42, numbering=Numbering.ACROSS, system=System.WYE_208)

frames = st.builds(
    Frame,
    spaces=st.integers(1, 84),
    numbering=st.sampled_from(Numbering),
    system=st.sampled_from(System),
)


@pytest.mark.parametrize(
    ("frame", "space", "poles", "half", "text", "legs"),
    [
        (ACROSS, 1, 1, None, "1", "A"),
        (ACROSS, 2, 1, None, "2", "A"),
        (ACROSS, 3, 1, None, "3", "B"),
        (ACROSS, 1, 2, None, "1,3", "AB"),
        (ACROSS, 4, 2, None, "4,6", "BA"),
        (DOWN, 1, 2, None, "1,2", "AB"),
        (DOWN, 13, 2, None, "13,14", "AB"),
        (SINGLE, 2, 2, None, "2,3", "BA"),
        (THREE, 1, 3, None, "1,3,5", "ABC"),
        (THREE, 4, 3, None, "4,6,8", "BCA"),
        (ACROSS, 5, 1, Half.UPPER, "5a", "A"),
        (ACROSS, 5, 2, Half.LOWER, "5b,7a", "AB"),
        (ACROSS, 5, 2, Half.UPPER, "5a,7b", "AB"),
    ],
)
def test_a_breaker_takes_these_spaces_and_legs(frame, space, poles, half, text, legs):
    taken = seat(frame, space=space, poles=poles, half=half)
    assert (taken.text, "".join(taken.legs)) == (text, legs)


@pytest.mark.parametrize(
    ("frame", "said", "words"),
    [
        (ACROSS, {"space": 43, "poles": 1}, "there is no space 43"),
        (ACROSS, {"space": 0, "poles": 1}, "there is no space 0"),
        (ACROSS, {"space": 41, "poles": 2}, "runs off the end"),
        (DOWN, {"space": 12, "poles": 2}, "runs off the end"),
        (ACROSS, {"space": 1, "poles": 3}, "needs 3 legs; this panel has 2"),
        (ACROSS, {"space": 1, "poles": 4}, "one, two or three"),
        (THREE, {"space": 1, "poles": 3, "half": Half.UPPER}, "one or two poles"),
    ],
)
def test_what_cannot_be_is_refused_in_words(frame, said, words):
    with pytest.raises(LayoutError, match=words):
        seat(frame, **said)


def test_a_tandem_goes_only_where_the_door_says():
    frame = Frame(
        spaces=42,
        numbering=Numbering.ACROSS,
        system=System.SPLIT_240,
        tandem=frozenset(range(21, 43)),
    )
    assert seat(frame, space=21, poles=1, half=Half.LOWER).text == "21b"
    assert seat(frame, space=19, poles=1).text == "19"
    with pytest.raises(LayoutError, match=r"Space 19 does not take a tandem; .*: 21-42"):
        seat(frame, space=19, poles=1, half=Half.UPPER)
    with pytest.raises(LayoutError, match="Space 19 does not take a tandem"):
        seat(frame, space=19, poles=2, half=Half.LOWER)


def test_a_quad_holds_two_pairs_that_do_not_overlap():
    inner = seat(ACROSS, space=5, poles=2, half=Half.LOWER)
    outer = seat(ACROSS, space=5, poles=2, half=Half.UPPER)
    full = seat(ACROSS, space=5, poles=2)
    single = seat(ACROSS, space=7, poles=1, half=Half.LOWER)
    assert not inner.overlaps(outer)
    assert full.overlaps(inner)
    assert full.overlaps(outer)
    assert outer.overlaps(single)
    assert not inner.overlaps(single)


@given(frames)
def test_every_space_has_one_place_and_every_place_one_space(frame):
    places = {frame.place(space) for space in range(1, frame.spaces + 1)}
    assert len(places) == frame.spaces
    for space in range(1, frame.spaces + 1):
        assert frame.number(*frame.place(space)) == space
    assert frame.number(0, frame.rows) is None
    assert frame.number(0, -1) is None


@given(frames, st.integers(1, 84), st.integers(1, 3), st.sampled_from([None, *Half]))
def test_poles_of_one_breaker_are_neighbours_on_different_legs(frame, space, poles, half):
    try:
        taken = seat(frame, space=space, poles=poles, half=half)
    except LayoutError:
        return
    places = [frame.place(pole.space) for pole in taken.poles]
    assert [column for column, _ in places] == [places[0][0]] * poles
    assert [row for _, row in places] == list(range(places[0][1], places[0][1] + poles))
    assert len(set(taken.legs)) == poles
    assert sum(end - start for start, end in taken.slots) == poles * (1 if half else 2)


def test_numbers_are_written_as_a_person_writes_them():
    assert span([4, 1, 2, 3, 7, 9, 10]) == "1-4, 7, 9-10"
    assert span([]) == ""
