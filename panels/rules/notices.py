"""What about this breaker or panel deserves a second look, though it can be recorded as found?"""

from __future__ import annotations

from dataclasses import dataclass

from panels.rules.sourced import Sourced

NO_SOURCE = "common practice, no source"
PANEL_PROTECTION = "408.36"


@dataclass(frozen=True, kw_only=True)
class Notice:
    """One thing to look at again: a sentence and where it comes from."""

    code: str
    sentence: str
    cite: str


def of_breaker(
    *,
    rating_a: int,
    bus_a: int,
    standard: Sourced[tuple[int, ...]],
    fed_bus_a: int | None = None,
    fed_main_a: int | None = None,
) -> tuple[Notice, ...]:
    """Notices about one breaker; `fed_*` describe the panel it feeds, if any. Amperes."""
    found = []
    if rating_a not in standard.value:
        found.append(
            Notice(
                code="rating_not_standard",
                sentence=f"{rating_a} A is not a standard breaker rating. Check the handle.",
                cite=standard.cite,
            )
        )
    if rating_a > bus_a:
        found.append(
            Notice(
                code="breaker_over_bus",
                sentence=f"A {rating_a} A breaker on a {bus_a} A bus. Check both markings.",
                cite=NO_SOURCE,
            )
        )
    if fed_bus_a is not None and min(rating_a, fed_main_a or rating_a) > fed_bus_a:
        found.append(
            Notice(
                code="feeder_over_bus",
                sentence=f"The panel it feeds has a {fed_bus_a} A bus and neither this breaker "
                "nor a main protects it at that.",
                cite=PANEL_PROTECTION,
            )
        )
    return tuple(found)


def of_panel(
    *, main_a: int | None, bus_a: int, standard: Sourced[tuple[int, ...]]
) -> tuple[Notice, ...]:
    """Notices about a panel's main breaker. Amperes."""
    if main_a is None:
        return ()
    found = []
    if main_a > bus_a:
        found.append(
            Notice(
                code="main_over_bus",
                sentence=f"A {main_a} A main on a {bus_a} A bus. Check both markings.",
                cite=PANEL_PROTECTION,
            )
        )
    if main_a not in standard.value:
        found.append(
            Notice(
                code="rating_not_standard",
                sentence=f"{main_a} A is not a standard breaker rating. Check the handle.",
                cite=standard.cite,
            )
        )
    return tuple(found)
