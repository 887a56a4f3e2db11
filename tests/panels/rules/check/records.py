"""Records of Harrow Mills to check, each described in one line."""

from __future__ import annotations

import datetime as dt
from typing import Any

from panels.editions import edition
from panels.rules.check.checker import BY_KEY, findings
from panels.rules.check.facts import (
    Breaker,
    Connected,
    Draw,
    Dwelling,
    Entrance,
    PanelPlate,
    Record,
    Torque,
)
from panels.rules.check.outcome import Finding

TODAY = dt.date(2026, 11, 25)


def plate(**said: Any) -> PanelPlate:
    """A 200 A main panel fed by the service unless said otherwise."""
    known = {"id": "main", "name": "Main panel", "rating_a": 200, "bus_a": 200, "main_a": 200}
    return PanelPlate(**(known | said))


def breaker(place: str = "1", **said: Any) -> Breaker:
    """A 20 A single-pole breaker on leg A unless said otherwise."""
    known = {"id": f"at {place}", "place": place, "rating_a": 20, "legs": ("A",)}
    return Breaker(**(known | {"name": f"Circuit of space {place}"} | said))


def draw(va: float | None = 1000.0, **said: Any) -> Draw:
    return Draw(**({"name": "Load", "va": va, "volts": 120.0} | said))


def inverter(rated_a: float | None = 32.0, **said: Any) -> Connected:
    known = {"id": "roof", "name": "Roof", "kind": "solar", "rated_a": rated_a}
    return Connected(**(known | {"circuit": "at 1", "breaker_a": 40} | said))


def torque(value: float = 50.0, marked: float | None = 50.0, tool: str = "Wrench 4") -> Torque:
    return Torque(terminal="main lug A", value=value, marked_value=marked, instrument=tool)


def house(*breakers: Breaker, panel: PanelPlate | None = None, **said: Any) -> Record:
    """A one-family house; `home` and `service` replace parts of it by name."""
    home = said.pop("home", {})
    service = said.pop("service", {})
    known: dict[str, Any] = {
        "site": "site",
        "on": TODAY,
        "panel": panel or plate(),
        "breakers": breakers,
        "home": None if home is None else Dwelling(**home),
        "entrance": Entrance(**({"occupancy": "one_family"} | service)),
    }
    return Record(**(known | said))


def shop(*breakers: Breaker, **said: Any) -> Record:
    """The same in a building that is no dwelling."""
    service = {"occupancy": "other"} | said.pop("service", {})
    return house(*breakers, home=None, service=service, **said)


def found(key: str, record: Record, year: str = "2017") -> list[Finding]:
    return list(findings(BY_KEY[key], record, edition(year)))


def first(key: str, record: Record, year: str = "2017") -> Finding:
    return found(key, record, year)[0]
