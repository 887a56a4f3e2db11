"""What a directory says: every space once, in the trade's order, and how two issues differ."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panels.directory import changes, content, schedule, words
from panels.directory.content import Circuit, Directory, Source, Supply
from panels.rules.layout import LayoutError, Numbering, Seat, System
from tests.panels.directories import a_breaker, a_directory, a_full_main, a_sub

BREAKERS = st.lists(
    st.tuples(
        st.integers(1, 84),
        st.integers(1, 3),
        st.sampled_from(["", "", "a", "b"]),
        st.sampled_from(["Hall", "Bath", "“Den” \\ #1", "Küche"]),
    ),
    max_size=30,
)


@st.composite
def directories(draw: st.DrawFn) -> Directory:
    """Any panel anybody could fill: breakers are offered one by one and kept where they fit."""
    system, numbering = draw(st.sampled_from(System)), draw(st.sampled_from(Numbering))
    empty = a_directory(
        spaces=draw(st.integers(1, 84)), numbering=numbering.value, system=system.value
    )
    taken: list[Seat] = []
    kept: list[Circuit] = []
    for space, poles, half, name in draw(BREAKERS):
        breaker = a_breaker(space, name, poles=poles, half=half)
        try:
            seat = empty.seat_of(breaker)
        except LayoutError:
            continue
        if not any(seat.overlaps(other) for other in taken):
            taken.append(seat)
            kept.append(breaker)
    return replace(empty, circuits=tuple(kept))


@given(directories())
def test_every_space_and_every_breaker_appears_exactly_once(directory):
    sides = [side for row in schedule.rows(directory) for side in (row.left, row.right) if side]
    spaces = [space for side in sides for space in side.spaces]
    assert sorted(spaces) == list(range(1, directory.identity.spaces + 1))
    shown = [part.item for side in sides for part in side.parts if part.item and part.first]
    assert sorted(shown, key=repr) == sorted(directory.circuits, key=repr)


@given(directories())
def test_what_is_written_is_read_back_the_same(directory):
    plain = content.to_plain(directory)
    stored = json.loads(json.dumps(plain))
    assert content.from_plain(stored) == directory
    assert content.digest(stored) == content.digest(plain)


@given(directories())
def test_a_directory_does_not_differ_from_itself(directory):
    assert changes.changes(directory, directory) == []


@given(directories(), directories())
def test_two_directories_differ_in_words_exactly_when_their_fingerprints_do(one, other):
    same = content.digest(content.to_plain(one)) == content.digest(content.to_plain(other))
    assert same == (changes.changes(one, other) == [])


def test_odd_numbers_stand_left_even_numbers_right():
    rows = schedule.rows(a_directory(a_breaker(1), spaces=6))
    assert [(row.left_no, row.leg, row.right_no) for row in rows] == [
        (1, "A", 2),
        (3, "B", 4),
        (5, "A", 6),
    ]


def test_numbers_down_the_columns_and_an_odd_last_space():
    rows = schedule.rows(a_directory(spaces=5, numbering="down"))
    assert [(row.left_no, row.right_no) for row in rows] == [(1, 4), (2, 5), (3, None)]
    assert rows[2].right is None


def test_a_two_pole_breaker_covers_both_its_spaces():
    rows = schedule.rows(a_directory(a_breaker(1, "Range", poles=2), spaces=4))
    assert rows[0].left.spaces == (1, 3)
    assert rows[1].left is None


def test_half_a_tandem_leaves_the_other_half_a_space():
    rows = schedule.rows(a_directory(a_breaker(3, "Hall", half="b"), spaces=4))
    assert rows[1].left.parts[0].item is None
    assert rows[1].left.parts[1].item.name == "Hall"


def test_the_inner_pair_of_a_quad_is_named_in_both_its_halves():
    rows = schedule.rows(a_directory(a_breaker(1, "Well pump", half="b", poles=2), spaces=4))
    halves = [part for row in rows[:2] for part in row.left.parts if part.item]
    assert [(part.mark, part.beside, part.first) for part in halves] == [
        ("1b", "3a", True),
        ("3a", "1b", False),
    ]


@pytest.mark.parametrize(
    ("circuit", "said"),
    [
        (None, "space"),
        (a_breaker(1, "", kind="spare"), "spare"),
        (a_breaker(1, "Workshop", kind="feeder", feeds="Shed"), "Workshop, feeder to Shed"),
        (a_breaker(1, "To the shed", kind="feeder", feeds="Shed"), "To the shed (feeder)"),
    ],
)  # fmt: skip
def test_spares_spaces_and_feeders_are_called_what_they_are(circuit, said):
    assert words.circuit_name(circuit) == said


def test_the_supply_is_told_with_panel_spaces_and_rating():
    assert words.supplied(a_sub().supply) == "Fed from Main panel, spaces 5, 7, 100 A"
    assert words.supplied(Supply()) == "Fed by the service"
    lugs = Supply(way="lugs", panel="Main panel")
    assert words.supplied(lugs) == "Fed through the feed-through lugs of Main panel"


def test_more_than_one_source_is_said_first():
    assert words.cautions(a_full_main())[0].startswith("More than one source")
    assert not any("More than one" in said for said in words.cautions(a_sub()))


def test_a_source_without_a_recorded_disconnect_says_so():
    told = words.sources([Source(kind="generator", name="Generator")])
    assert told == [("Generator", "disconnect not recorded: find it before you rely on it")]


def test_only_what_differs_is_told():
    was = a_directory(a_breaker(12, "Bedroom"), a_breaker(14, "Hall"))
    now = a_directory(a_breaker(12, "Bedroom 2 receptacles"), a_breaker(16, "Bath", rating_a=15))
    told = [str(change) for change in changes.changes(was, now)]
    assert told == [
        "space 12: was “Bedroom”, now “Bedroom 2 receptacles”",
        "space 14: was “Hall”, 1-pole, 20 A, protection not recorded, now empty",
        "space 16: was empty, now “Bath”, 1-pole, 15 A, protection not recorded",
    ]
    assert changes.places(changes.changes(was, now)) == "spaces 12, 14, 16"


def test_the_panel_its_supply_its_sources_and_the_firm_are_compared_too():
    was = a_full_main()
    now = replace(
        was,
        identity=replace(was.identity, location="Garage", interrupting_ka=None),
        supply=a_sub().supply,
        issuer=replace(was.issuer, phone="+16145550101"),
        sources=(),
    )
    told = [str(change) for change in changes.changes(was, now)]
    assert told == [
        "location: was “Basement, north wall”, now “Garage”",
        "short-circuit rating, kA: was 22, now not recorded",
        "supply: was Fed by the service, now Fed from Main panel, spaces 5, 7, 100 A",
        "Roof array: was Outside, beside the meter, now not on site",
        "the firm: was Tallow Creek Electric, EL-40871, +16145550100, "
        "now Tallow Creek Electric, EL-40871, +16145550101",
    ]


def test_a_breaker_that_cannot_sit_there_makes_no_directory():
    with pytest.raises(LayoutError):
        a_directory(a_breaker(42, poles=2))
