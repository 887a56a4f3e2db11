"""Directories of invented panels, without a database."""

from __future__ import annotations

from typing import Any

from panels.directory.content import Circuit, Directory, Identity, Issuer, Source, Supply

FIRM = Issuer(name="Tallow Creek Electric", licence_number="EL-40871", phone="+16145550100")


def an_identity(**said: Any) -> Identity:
    facts = {
        "panel_id": "5f4c1c1e-6f0b-4a4c-9d2b-5d6f1f0a7c11",
        "site": "114 Weir Street, Harrow Mills, OH 43099",
        "name": "Main panel",
        "location": "Basement, north wall",
        "mounting": "surface",
        "outdoors": False,
        "system": "1ph-240",
        "rating_a": 200,
        "main_a": 200,
        "interrupting_ka": 22.0,
        "spaces": 42,
        "numbering": "across",
    }
    return Identity(**(facts | said))


def a_breaker(space: int, name: str | None = None, **said: Any) -> Circuit:
    named = f"Outlets {space}" if name is None else name
    facts = {"poles": 1, "rating_a": 20, "kind": "branch", "name": named}
    return Circuit(space=space, **(facts | said))


def a_directory(*circuits: Circuit, **said: Any) -> Directory:
    rest = {"supply": Supply(), "issuer": FIRM, "sources": ()}
    given = {name: said.pop(name) for name in [*rest] if name in said}
    return Directory(identity=an_identity(**said), circuits=circuits, **(rest | given))


def a_full_main() -> Directory:
    """42 spaces: two-poles, tandems, a quad, a feeder, a spare and empty spaces."""
    return a_directory(
        a_breaker(1, "Range", poles=2, rating_a=50),
        a_breaker(2, "Kitchen counter, sink side", protection="dual"),
        a_breaker(4, "Kitchen counter, range side", protection="afci", multiwire="a"),
        a_breaker(
            5, "Workshop panel", poles=2, rating_a=100, kind="feeder", feeds="Workshop panel"
        ),
        *(a_breaker(space) for space in (6, *range(8, 28))),
        a_breaker(28, "", kind="spare"),
        a_breaker(29, "Hall lights", half="a", rating_a=15),
        a_breaker(29, "Smoke alarms", half="b", rating_a=15, backed_up=True, shed_order=2),
        a_breaker(31, "Attic fan", half="a", rating_a=15),
        a_breaker(31, "Well pump", half="b", poles=2, rating_a=30),
        a_breaker(33, "Shed lights", half="b", rating_a=15),
        a_breaker(34, "Solar inverter", poles=2, rating_a=40, kind="source"),
        sources=(
            Source(kind="solar", name="Roof array", disconnect_at="Outside, beside the meter"),
        ),
    )


def a_sub() -> Directory:
    """24 spaces, fed from the main panel, main lugs only."""
    return a_directory(
        a_breaker(1, "Table saw", poles=2, rating_a=30),
        *(a_breaker(space, f"Bench {space}", protection="gfci") for space in range(5, 20)),
        name="Workshop panel",
        spaces=24,
        rating_a=125,
        main_a=None,
        supply=Supply(way="feeder", panel="Main panel", spaces="5, 7", rating_a=100),
    )


def a_shop() -> Directory:
    """84 spaces of a three-phase panel, every one used."""
    return a_directory(
        a_breaker(1, "Rooftop unit", poles=3, rating_a=60),
        a_breaker(2, "Air compressor", poles=3, rating_a=50),
        *(a_breaker(space, f"Lighting and receptacles, bay {space}") for space in range(7, 85)),
        name="Shop panel",
        system="3ph-208",
        spaces=84,
        rating_a=400,
        main_a=400,
    )
