"""Plain descriptions of homes for the tests, short enough to read in one line."""

from __future__ import annotations

from typing import Any

from panels.editions import edition
from panels.rules import calculate
from panels.rules.description import from_plain
from panels.rules.working import Result

RANGE = {"kind": "range", "nameplate": "12 kW"}
DRYER = {"kind": "dryer", "nameplate": "5 kW"}
HEATER = {"kind": "water_heater", "nameplate": "4.5 kW"}


def appliance(va: float, name: str = "Dishwasher", **more: Any) -> dict[str, Any]:
    return {"kind": "appliance", "name": name, "nameplate": f"{va} VA", "volts": 120, **more}


def home(*loads: dict[str, Any], area: float = 1500, **more: Any) -> dict[str, Any]:
    return {
        "floor_area": f"{area} ft2",
        "small_appliance_circuits": 2,
        "laundry_circuits": 1,
        "loads": list(loads),
        **more,
    }


def flat(*loads: dict[str, Any], count: int, area: float = 840, **more: Any) -> dict[str, Any]:
    return {**home(*loads, area=area), "laundry_circuits": 0, "count": count, **more}


def building(*units: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"units": list(units), **more}


def worked(plain: dict[str, Any], method: str = "standard", by: str = "2017") -> Result:
    return calculate(method, from_plain(plain), edition(by))


def va(result: Result, key: str) -> float:
    return float(result.value(key).m_as("VA"))  # type: ignore[union-attr]


def amperes(result: Result, key: str) -> float:
    return float(result.value(key).m_as("A"))  # type: ignore[union-attr]
