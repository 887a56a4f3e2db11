"""How ratings, wires and words are written on schedules: common practice, no source."""

from __future__ import annotations

import pytest

from panels.schedules import cells


@pytest.mark.parametrize(
    ("text", "amps", "poles"),
    [
        ("20", 20, None),
        ("20A", 20, None),
        ("20 amps", 20, None),
        ("50/2", 50, 2),
        ("50A-2P", 50, 2),
        ("2P50", 50, 2),
        ("2P-50A", 50, 2),
        ("2 pole 50", 50, 2),
        ("3P 100 A", 100, 3),
        ("225/3P", 225, 3),
    ],
)
def test_a_rating_says_amperes_and_perhaps_poles(text, amps, poles):
    assert cells.rating(text) == cells.Rating(amps=amps, poles=poles)


@pytest.mark.parametrize("text", ["", "x", "twenty", "2P50/2", "20/4", "20.5", "-20"])
def test_what_is_no_rating_is_none(text):
    assert cells.rating(text) is None


@pytest.mark.parametrize(
    ("text", "size", "metal"),
    [
        ("12", "12", ""),
        ("#12", "12", ""),
        ("12 Cu", "12", "cu"),
        ("2/0 AL", "2/0", "al"),
        ("12 AWG copper", "12", "cu"),
        ("250 kcmil aluminum", "250", "al"),
    ],
)
def test_a_conductor_has_a_size_and_perhaps_a_metal(text, size, metal):
    assert cells.wire(text) == (size, metal)


def test_what_is_no_conductor_is_none():
    assert cells.wire("romex") is None


def test_words_for_nothing_new_spare_and_empty():
    assert all(map(cells.is_ditto, ["", "-", '"', "do", "''"]))
    assert not cells.is_ditto("Range")
    assert all(map(cells.is_spare, ["Spare", " SPARE ", "(spare)"]))
    assert all(map(cells.is_empty, ["Space", "-- empty --", "blank"]))
    assert not cells.is_empty("Space heater")
    assert (cells.yes_or_no("Yes"), cells.yes_or_no("n"), cells.yes_or_no("?")) == (
        True, False, None,
    )  # fmt: skip
