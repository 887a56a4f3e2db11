"""What do breakers of this size usually serve? Names offered while recording a panel.

Ratings and what they serve are common practice, no source. Each name says what and where, none
says whose: a directory must stay right when people move (408.4(A)).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Common:
    """A usual name: the ratings and poles it goes with; `repeats` where a home has several."""

    name: str
    ratings: tuple[int, ...]
    poles: int = 1
    repeats: bool = False

    def fits(self, *, rating_a: int, poles: int) -> bool:
        return self.poles == poles and rating_a in self.ratings


def _fifteen(name: str, *, repeats: bool = False) -> Common:
    return Common(name=name, ratings=(15, 20), repeats=repeats)


def _twenty(name: str, *, repeats: bool = False) -> Common:
    return Common(name=name, ratings=(20,), repeats=repeats)


def _two(name: str, *ratings: int, repeats: bool = False) -> Common:
    return Common(name=name, ratings=ratings, poles=2, repeats=repeats)


def _three(name: str, *ratings: int, repeats: bool = False) -> Common:
    return Common(name=name, ratings=ratings, poles=3, repeats=repeats)


# In the order offered: first what most panels have.
COMMON: tuple[Common, ...] = (
    _twenty("Kitchen counter receptacles", repeats=True),
    _twenty("Bathroom receptacles", repeats=True),
    _twenty("Laundry receptacles"),
    _twenty("Garage receptacles"),
    _twenty("Dishwasher"),
    _twenty("Disposer"),
    _twenty("Microwave"),
    _twenty("Refrigerator"),
    _twenty("Dining room receptacles"),
    _twenty("Outdoor receptacles", repeats=True),
    _twenty("Basement receptacles", repeats=True),
    _twenty("Furnace"),
    _twenty("Sump pump"),
    _twenty("Freezer"),
    _twenty("Gas range and hood"),
    _twenty("Whole-house fan"),
    Common(name="Bedroom receptacles", ratings=(15,), repeats=True),
    Common(name="Living room receptacles", ratings=(15,)),
    _fifteen("Kitchen lights"),
    _fifteen("Hall and stair lights"),
    _fifteen("Bathroom lights and fan", repeats=True),
    _fifteen("Bedroom lights", repeats=True),
    _fifteen("Living room lights"),
    _fifteen("Outdoor lights"),
    _fifteen("Basement lights"),
    _fifteen("Garage lights and door opener"),
    _fifteen("Smoke alarms"),
    _fifteen("Attic lights"),
    _fifteen("Office receptacles"),
    _two("Range", 40, 50),
    _two("Dryer", 30),
    _two("Water heater", 30, 25),
    _two("Air conditioner, outdoor unit", 20, 25, 30, 35, 40, 45, 50, repeats=True),
    _two("Heat pump, outdoor unit", 20, 25, 30, 35, 40, 45, 50, 60),
    _two("Air handler with heat strips", 30, 40, 50, 60, 70, 80, 90, 100),
    _two("Vehicle supply equipment", 20, 30, 40, 50, 60, 70, 80),
    _two("Wall oven", 20, 30, 40),
    _two("Cooktop", 30, 40, 50),
    _two("Well pump", 15, 20),
    _two("Baseboard heat", 15, 20, 30, repeats=True),
    _two("Water heater, tankless", 40, 50, 60),
    _two("Hot tub", 40, 50, 60),
    _two("Pool pump", 15, 20),
    _two("Welder receptacle", 50, 60),
    _two("Surge protector", 15, 20, 30, 50, 60),
    _two("Storage battery", 30, 40, 50, 60),
    _two("Solar inverter", 20, 30, 40, 50),
    _two("Standby generator", 40, 50, 60, 100, 200),
    _three("Rooftop unit", 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 100, repeats=True),
    _three("Air compressor", 20, 30, 40, 50, 60),
    _three("Walk-in cooler", 15, 20, 30),
    _three("Water heater", 20, 25, 30, 40, 50, 60),
    _three("Elevator", 40, 50, 60, 70, 80, 100),
    _three("Surge protector", 15, 20, 30, 50, 60),
)


def offered(used: Iterable[str], own: Iterable[Common] = ()) -> list[Common]:
    """The names to offer in a panel that has `used` some already; the firm's `own` come first.

    A name used up is left out; one that repeats is offered with the next number, because no
    two circuits of a panel may be described alike (408.4(A)).
    """
    taken = {name.casefold() for name in used}
    found: list[Common] = []
    known: set[tuple[str, int]] = set()
    for common in (*own, *COMMON):
        key = (common.name.casefold(), common.poles)
        name = _next(common, taken)
        if key in known or name is None:
            continue
        known.add(key)
        found.append(
            Common(name=name, ratings=common.ratings, poles=common.poles, repeats=common.repeats)
        )
    return found


def best_first(names: Iterable[Common], *, rating_a: int, poles: int) -> list[Common]:
    """Those for this breaker first; a name that goes with two poles and with three is one name."""
    found: dict[str, Common] = {}
    for one in sorted(names, key=lambda one: not one.fits(rating_a=rating_a, poles=poles)):
        found.setdefault(one.name.casefold(), one)
    return list(found.values())


def _next(common: Common, taken: set[str]) -> str | None:
    if common.name.casefold() not in taken:
        return common.name
    if not common.repeats:
        return None
    numbered = (f"{common.name} {number}" for number in range(2, 100))
    return next((name for name in numbered if name.casefold() not in taken), None)
