"""Is this a drawing of a signature, and how is it drawn again on any screen or paper?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from contractor.errors import Invalid
from jobs.planning.words import gettext_noop

Point = tuple[float, float]

# Room for any real signature; beyond it is not a hand. Common practice, no source.
SIDES = (40, 6000)
MOST_STROKES = 200
MOST_POINTS = 6000
LEAST_REACH = 12.0  # the farthest two points of a signature lie further apart than a slip's


class NotADrawing(Invalid):
    """The strokes cannot be used; the sentence says what to do."""

    def __init__(self, sentence: str) -> None:
        super().__init__("strokes_unusable", sentence, fields={"strokes": sentence})


UNREADABLE = gettext_noop("The drawing arrived damaged. Sign once more.")
TOO_MUCH = gettext_noop("That is more ink than a signature. Press “Sign again” and sign once.")
TOO_LITTLE = gettext_noop("A dot is not a signature. Sign on the line, or type the name.")


@dataclass(frozen=True)
class Drawing:
    """Strokes on a sheet of `width` by `height`, each a row of points from its upper left."""

    width: int
    height: int
    strokes: tuple[tuple[Point, ...], ...]

    def to_plain(self) -> dict[str, Any]:
        return {
            "width": self.width,
            "height": self.height,
            "strokes": [[[x, y] for x, y in stroke] for stroke in self.strokes],
        }

    @property
    def paths(self) -> tuple[str, ...]:
        """SVG path data, one per stroke: curves through the middles between points."""
        return tuple(_path(stroke) for stroke in self.strokes)


def read_drawing(plain: Any) -> Drawing:
    """A drawing from its plain form {"width", "height", "strokes": [[[x, y], ...], ...]}.

    Coordinates are kept to a tenth. Raises NotADrawing for anything malformed, outside the
    sheet, endless, or too small to be a signature.
    """
    try:
        width, height = int(plain["width"]), int(plain["height"])
        rows = [[(float(x), float(y)) for x, y in stroke] for stroke in plain["strokes"]]
    except (TypeError, ValueError, KeyError, OverflowError) as error:
        raise NotADrawing(UNREADABLE) from error
    if len(rows) > MOST_STROKES or sum(map(len, rows)) > MOST_POINTS:
        raise NotADrawing(TOO_MUCH)
    if not all(SIDES[0] <= side <= SIDES[1] for side in (width, height)):
        raise NotADrawing(UNREADABLE)
    strokes = tuple(_stroke(row, width, height) for row in rows if row)
    drawing = Drawing(width, height, strokes)
    if _reach(drawing) < LEAST_REACH:
        raise NotADrawing(TOO_LITTLE)
    return drawing


def _stroke(row: list[Point], width: int, height: int) -> tuple[Point, ...]:
    """A finger may slip over the edge by a little; the ink ends there."""
    return tuple(
        (_within(x, width), _within(y, height)) for x, y in row if _finite(x) and _finite(y)
    )


def _finite(number: float) -> bool:
    if not math.isfinite(number):
        raise NotADrawing(UNREADABLE)
    return True


def _within(number: float, side: int) -> float:
    return round(min(max(number, 0.0), float(side)), 1)


def _reach(drawing: Drawing) -> float:
    points = [point for stroke in drawing.strokes for point in stroke]
    if not points:
        return 0.0
    across, down = [x for x, _y in points], [y for _x, y in points]
    return math.hypot(max(across) - min(across), max(down) - min(down))


def _path(stroke: tuple[Point, ...]) -> str:
    first, *rest = stroke
    if not rest:
        return f"M{_at(first)}l0.1 0"  # a dot: a round cap makes it visible
    return f"M{_at(first)}" + "".join(_curves(stroke)) + f"L{_at(stroke[-1])}"


def _curves(stroke: tuple[Point, ...]) -> Iterator[str]:
    for one, other in pairwise(stroke[1:]):
        middle = ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
        yield f"Q{_at(one)} {_at(middle)}"


def _at(point: Point) -> str:
    return f"{point[0]:g} {point[1]:g}"
