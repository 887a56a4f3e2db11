"""The sites whose fault currents are worked by several ways: one published, others made up."""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Any

SIZES = ("6", "4", "2", "1/0", "3/0", "4/0", "250", "350", "500")


@dataclass(frozen=True, kw_only=True)
class Case:
    title: str
    plain: dict[str, Any]


def published(x_over_r: float) -> Case:
    """The geometry of the published example: 300 kVA, 2 %Z taken at 1.8, 20 ft and 20 ft."""
    runs = [("MDP", "500", 2), ("L1", "2", 1)]
    panels = [
        {"name": name, "rating": "400 A", "circuits": []} for name, *_ in runs
    ]  # fmt: skip
    panels[0]["circuits"] = [_feeder("L1", 3, _run("2", "cu", "steel", 20, 1))]
    return Case(
        title=f"300 kVA, X/R {x_over_r:g}",
        plain={
            "service": {
                "system": "3ph-208",
                "transformer": {"rating": "300 kVA", "percent_z": 1.8, "x_over_r": x_over_r},
                "conductor": _run("500", "cu", "steel", 20, 2),
            },
            "panels": panels,
        },
    )


def made_up(seed: int) -> Case:
    """A site of three to six panels; every third single-phase, every fourth with a transformer
    inside it, every other by the utility's figure."""
    rng = random.Random(seed)
    single = seed % 3 == 0
    inside = not single and seed % 4 == 1
    system = "1ph-240" if single else ("3ph-480" if inside else "3ph-208")
    service: dict[str, Any] = {"system": system, "conductor": _any_run(rng, 100)}
    if single or seed % 2:
        kva = rng.choice([25, 50, 75, 100] if single else [112.5, 225, 300, 500])
        service["transformer"] = {
            "rating": f"{kva} kVA", "percent_z": round(rng.uniform(1.2, 5), 2),
            "x_over_r": round(rng.uniform(0.8, 6), 2),
        }  # fmt: skip
    else:
        service |= {"available": f"{rng.randint(8, 60)} kA", "x_over_r": rng.uniform(1, 8)}
    plain = {"service": service, "panels": _panels(rng, system, inside=inside)}
    if single and seed % 2:
        plain["half_winding"] = "1.5r_1.2x"
    return Case(title=f"site {seed}, {system}", plain=plain)


def _panels(rng: random.Random, system: str, *, inside: bool) -> list[dict[str, Any]]:
    poles = 2 if system.startswith("1ph") else 3
    panels: list[dict[str, Any]] = [{"name": "P0", "rating": "400 A", "circuits": []}]
    for number in range(1, rng.randint(3, 6)):
        panel: dict[str, Any] = {"name": f"P{number}", "rating": "200 A", "circuits": []}
        above = rng.choice(panels)
        panel["system"] = above.get("system", system)
        if inside and number == 1:
            panel["system"] = "3ph-208"
            panel["transformer"] = {"rating": "75 kVA", "percent_z": 4.1, "x_over_r": 1.7}
        above["circuits"].append(_feeder(panel["name"], poles, _any_run(rng, 250)))
        panels.append(panel)
    return panels


def _feeder(feeds: str, poles: int, conductor: dict[str, Any]) -> dict[str, Any]:
    return {"feeds": feeds, "poles": poles, "rating": "100 A", "conductor": conductor}


def _any_run(rng: random.Random, most: int) -> dict[str, Any]:
    run = _run(
        rng.choice(SIZES), rng.choice(["cu", "al"]), rng.choice(["pvc", "al", "steel"]),
        rng.randint(5, most), rng.choice([1, 1, 2]),
    )  # fmt: skip
    return run | {"neutral": rng.choice([run["size"], "4"])}


def _run(size: str, metal: str, raceway: str, feet: float, sets: int) -> dict[str, Any]:
    return {
        "size": size, "metal": metal, "raceway": raceway, "length": f"{feet} ft", "sets": sets
    }  # fmt: skip


CASES = [published(3), published(99_999), *map(made_up, range(2, 11))]
