"""What a case is as a network: numbers only, read from its plain description without our rules.

The ohms are read from the table's file by itself.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

TABLE = Path(__file__).parents[2] / "panels/editions/tables/impedance.csv"
VOLTS = {"1ph-240": 240.0, "3ph-208": 208.0, "3ph-480": 480.0}  # between lines
PRIMARY = 12_470.0
HALF = {"third": (1 / 6, 1 / 6, 1 / 6, 1 / 6), "1.5r_1.2x": (0.125, 0.25, 0.2, 0.1)}


@dataclass(frozen=True, kw_only=True)
class Line:
    """Conductors: ohms of a line and of the neutral, all sets together."""

    near: str
    far: str
    line: complex
    neutral: complex


@dataclass(frozen=True, kw_only=True)
class Transformer:
    """Its nameplate; `z` in parts of one. Delta to wye, or single-phase with a centre tap."""

    near: str
    far: str
    near_volts: float
    far_volts: float
    kva: float
    z: complex
    centre_tap: bool
    half: tuple[float, float, float, float] = HALF["third"]


@dataclass(frozen=True, kw_only=True)
class Source:
    """A three-phase source, by its current; a very large one before a utility transformer."""

    bus: str
    volts: float
    amperes: float
    x_over_r: float


Element = Line | Transformer | Source


@dataclass(frozen=True, kw_only=True)
class Network:
    elements: tuple[Element, ...]
    volts: dict[str, float]
    single: bool


def network(plain: dict[str, Any]) -> Network:
    """The elements from the source outwards, and the voltage of each place."""
    service = plain["service"]
    volts = VOLTS[service["system"]]
    places = {"service": volts, "head": volts}
    elements = [*_head(plain, volts)]
    panels = {panel["name"]: panel for panel in plain["panels"]}
    feeders = {
        circuit["feeds"]: (panel["name"], circuit["conductor"])
        for panel in plain["panels"]
        for circuit in panel["circuits"]
    }
    for name, panel in panels.items():
        near, run = feeders.get(name, ("service", service["conductor"]))
        places[name] = VOLTS[panel.get("system", service["system"])]
        inside = panel.get("transformer")
        far = f"{name}x" if inside else name
        elements.append(_line(near, far, run))
        if inside:
            places[far] = places[near]
            elements.append(_transformer(far, name, places[near], places[name], inside, plain))
    return Network(elements=tuple(elements), volts=places, single=volts == 240.0)


def _head(plain: dict[str, Any], volts: float) -> Iterator[Element]:
    service = plain["service"]
    nameplate = service.get("transformer")
    if nameplate is None:
        amperes = float(service["available"].split()[0]) * 1000
        yield Source(bus="service", volts=volts, amperes=amperes, x_over_r=service["x_over_r"])
        return
    yield Source(bus="head", volts=PRIMARY, amperes=1e12 / math.sqrt(3) / PRIMARY, x_over_r=10)
    yield _transformer("head", "service", PRIMARY, volts, nameplate, plain)


def _transformer(
    near: str, far: str, near_volts: float, far_volts: float, said: dict[str, Any],
    plain: dict[str, Any],
) -> Transformer:  # fmt: skip
    z = said["percent_z"] / 100
    angle = math.atan(said["x_over_r"])
    return Transformer(
        near=near, far=far, near_volts=near_volts, far_volts=far_volts,
        kva=float(said["rating"].split()[0]), z=complex(z * math.cos(angle), z * math.sin(angle)),
        centre_tap=far_volts == 240.0, half=HALF[plain.get("half_winding", "third")],
    )  # fmt: skip


def _line(near: str, far: str, run: dict[str, Any]) -> Line:
    feet = float(run["length"].split()[0])
    line, neutral = (
        _ohms(size, run["metal"], run["raceway"]) * feet / 1000 / run["sets"]
        for size in (run["size"], run.get("neutral", run["size"]))
    )
    return Line(near=near, far=far, line=line, neutral=neutral)


def _ohms(size: str, metal: str, raceway: str) -> complex:
    with TABLE.open(newline="") as file:
        row = next(row for row in csv.DictReader(file) if row["size"] == size)
    reactance = row["x_steel" if raceway == "steel" else "x_pvc_al"]
    return complex(float(row[f"{metal}_{raceway}"]), float(reactance))
