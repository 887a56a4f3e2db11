"""Which values does a fault-current study rest on that no code gives, and whose are they?"""

from __future__ import annotations

from dataclasses import dataclass

from panels.rules.sourced import Mark, Sourced

GUIDE = "Electrical Plan Review, point-to-point method"


@dataclass(frozen=True, kw_only=True)
class HalfWinding:
    """Half of a centre-tapped winding: its resistance and reactance as parts of the whole's."""

    label: str
    r: float
    x: float


HALVES: dict[str, Sourced[HalfWinding]] = {
    "third": Sourced(
        value=HalfWinding(label="line to neutral 1.5 × line to line", r=1 / 3, x=1 / 3),
        cite="published point-to-point convention",
        mark=Mark.READ,
        source=GUIDE,
    ),
    "1.5r_1.2x": Sourced(
        value=HalfWinding(label="1.5 × %R and 1.2 × %X on half the winding", r=0.375, x=0.3),
        cite="common practice, no source",
        mark=Mark.MEMORY,
    ),
}
TOLERANCE = Sourced(
    value=0.9,
    cite="published guide: %Z may be 10 % lower than stated",
    mark=Mark.READ,
    source=GUIDE,
)
MOTORS = Sourced(
    value=4.0,
    cite="published guides: motors add 4 × their full-load current",
    mark=Mark.MEMORY,
)
CONVENTIONS = {
    "in_f": "1.5 for the center tap is taken before f",
    "after": "1.5 for the center tap is taken after M",
}
