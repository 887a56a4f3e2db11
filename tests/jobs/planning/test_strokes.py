"""A signature is read back as it was drawn; what is not one is refused in words."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.planning.strokes import MOST_POINTS, MOST_STROKES, NotADrawing, read_drawing

SIGNED = {"width": 320, "height": 176, "strokes": [[[20, 90.04], [60, 40], [100, 120]], [[7, 8]]]}

points = st.tuples(st.floats(0, 320), st.floats(0, 176))
strokes = st.lists(st.lists(points, min_size=1, max_size=20), min_size=1, max_size=8)


def test_what_was_drawn_comes_back_to_a_tenth():
    assert read_drawing(SIGNED).to_plain() == {
        "width": 320, "height": 176,
        "strokes": [[[20.0, 90.0], [60.0, 40.0], [100.0, 120.0]], [[7.0, 8.0]]],
    }  # fmt: skip


@given(rows=strokes)
def test_any_signature_reads_back_as_itself_through_json(rows):
    corner = [(0.0, 0.0), (320.0, 176.0)]
    first = read_drawing({"width": 320, "height": 176, "strokes": [corner, *rows]})
    again = read_drawing(json.loads(json.dumps(first.to_plain())))
    assert again == first
    assert len(first.paths) == len(rows) + 1


@given(rows=strokes)
def test_paths_hold_numbers_and_commands_only(rows):
    drawing = read_drawing({"width": 320, "height": 176, "strokes": [[(0, 0), (50, 50)], *rows]})
    for path in drawing.paths:
        assert set(path) <= set("MLQl0123456789. e-")
        assert path.startswith("M")


def test_a_path_goes_from_the_first_point_to_the_last():
    (path, dot) = read_drawing(SIGNED).paths
    assert path == "M20 90Q60 40 80 80L100 120"
    assert dot == "M7 8l0.1 0"


def test_ink_that_slipped_over_the_edge_ends_at_the_edge():
    drawn = read_drawing({"width": 320, "height": 176, "strokes": [[[-4, 20], [330, 900]]]})
    assert drawn.strokes == (((0.0, 20.0), (320.0, 176.0)),)


@pytest.mark.parametrize(
    "plain",
    [
        None, "", [], {}, {"width": 320}, {"width": 320, "height": 176, "strokes": 3},
        {"width": 320, "height": 176, "strokes": [[1, 2]]},
        {"width": 320, "height": 176, "strokes": [[[1, 2, 3]]]},
        {"width": 320, "height": 176, "strokes": [[["<script>", 2]]]},
        {"width": 320, "height": 176, "strokes": [[[math.nan, 2], [90, 90]]]},
        {"width": 320, "height": 176, "strokes": [[[math.inf, 2], [90, 90]]]},
        {"width": 0, "height": 176, "strokes": [[[1, 2], [90, 90]]]},
        {"width": 10**9, "height": 176, "strokes": [[[1, 2], [90, 90]]]},
        {"width": 320, "height": 176, "strokes": []},
        {"width": 320, "height": 176, "strokes": [[[100, 100]]]},
        {"width": 320, "height": 176, "strokes": [[[1, 1], [99, 99]]] * (MOST_STROKES + 1)},
        {"width": 320, "height": 176, "strokes": [[[1, 1], [99, 99]] * MOST_POINTS]},
    ],
)  # fmt: skip
def test_what_is_no_signature_is_refused_with_what_to_do(plain):
    with pytest.raises(NotADrawing) as refused:
        read_drawing(plain)
    assert refused.value.status == 422
    assert refused.value.fields == {"strokes": refused.value.sentence}
