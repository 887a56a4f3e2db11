"""The schedule as drawn: every space once, whatever sits in it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from panels.rules import backplate
from panels.rules.layout import Frame, Half, LayoutError, Numbering, System, seat

EIGHT = Frame(spaces=8, numbering=Numbering.ACROSS, system=System.SPLIT_240)


def put(frame, *wanted):
    return [
        (name, seat(frame, space=space, poles=poles, half=half))
        for name, space, poles, half in wanted
    ]


def test_two_numbered_columns_about_a_bus():
    found = put(EIGHT, ("range", 1, 2, None), ("hall", 6, 1, None))
    rows = backplate.rows(EIGHT, found)
    assert [(row.left_no, row.leg, row.right_no) for row in rows] == [
        (1, "A", 2), (3, "B", 4), (5, "A", 6), (7, "B", 8),
    ]  # fmt: skip
    assert rows[0].left.parts[0].item == "range"
    assert (rows[0].left.rows, rows[1].left) == (2, None)
    assert rows[2].right.parts[0].item == "hall"
    assert [part.item for part in rows[3].left.parts] == [None]


def test_a_tandem_and_a_quad_show_both_halves_of_each_space():
    found = put(
        EIGHT,
        ("stairs", 2, 1, Half.LOWER),
        ("inner", 1, 2, Half.LOWER),
        ("outer", 1, 2, Half.UPPER),
    )
    rows = backplate.rows(EIGHT, found)
    told = [
        [(part.mark, part.item, part.beside, part.first) for part in side.parts]
        for side in (rows[0].left, rows[1].left, rows[0].right)
    ]
    assert told == [
        [("1a", "outer", "3b", True), ("1b", "inner", "3a", True)],
        [("3a", "inner", "1b", False), ("3b", "outer", "1a", False)],
        [("2a", None, "", True), ("2b", "stairs", "", True)],
    ]


@given(
    st.integers(1, 30),
    st.sampled_from(Numbering),
    st.lists(
        st.tuples(st.integers(1, 30), st.integers(1, 3), st.sampled_from([None, *Half])),
        max_size=20,
    ),
)
def test_every_space_is_drawn_exactly_once(spaces, numbering, wishes):
    frame = Frame(spaces=spaces, numbering=numbering, system=System.WYE_208)
    found = []
    for space, poles, half in wishes:
        try:
            wanted = seat(frame, space=space, poles=poles, half=half)
        except LayoutError:
            continue
        if not any(wanted.overlaps(there) for _name, there in found):
            found.append((len(found), wanted))
    sides = backplate.sides(frame, found)
    drawn = [space for side in sides for space in side.spaces]
    assert sorted(drawn) == list(range(1, spaces + 1))
    items = [part.item for side in sides for part in side.parts if part.item is not None]
    poles = sum(len(there.poles) if there.poles[0].half else 1 for _name, there in found)
    assert len(items) == poles
    numbers = [row.left_no for row in backplate.rows(frame, found) if row.left_no]
    assert numbers == sorted(numbers)
