"""How long does a whole tree take, load and fault? Run: python -m tests.bench.bench_tree"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from functools import partial
from typing import Any

from panels.editions import edition
from panels.rules.fault import answer as fault
from panels.rules.feeders import answer as feeders
from panels.rules.working import to_plain
from tests.bench.bench_load import milliseconds

CIRCUITS = 20
EDITION = edition("2023")
DWELLING = {
    "floor_area": "2400 ft2", "small_appliance_circuits": 2, "laundry_circuits": 1,
    "loads": [
        {"kind": "range", "nameplate": "12 kW"}, {"kind": "dryer", "nameplate": "5.5 kW"},
        {"kind": "vehicle", "nameplate": "9.6 kVA"},
    ],
}  # fmt: skip


def site(panels: int, *, system: str, fan_out: int) -> dict[str, Any]:
    """So many panels, each feeding up to `fan_out` others, every one with twenty circuits."""
    poles = 2 if system.startswith("1ph") else 3
    run = {"size": "1/0", "metal": "cu", "raceway": "steel", "length": "80 ft"}
    listed: list[dict[str, Any]] = []
    for number in range(panels):
        circuits: list[dict[str, Any]] = [
            {
                "space": space, "rating": "20 A", "name": f"Circuit {space}",
                "interrupting": "22 kA",
                "loads": [{"name": "Load", "load": "900 VA", "continuous": space % 3 == 0}],
            }
            for space in range(1, CIRCUITS + 1)
        ]  # fmt: skip
        listed.append(
            {
                "name": f"P{number}", "rating": "225 A", "main": "200 A", "spaces": 84,
                "interrupting": "42 kA", "circuits": circuits,
            }
        )  # fmt: skip
        if number:
            above = listed[(number - 1) // fan_out]["circuits"]
            space = CIRCUITS + 1 + (len(above) - CIRCUITS) * 2 * poles
            above.append(
                {
                    "space": space, "poles": poles, "rating": "150 A", "feeds": f"P{number}",
                    "conductor": run,
                }
            )  # fmt: skip
    entrance = {
        "system": system, "occupancy": "one_family", "available": "30 kA", "x_over_r": 3.0,
        "conductor": run | {"sets": 2},
    }  # fmt: skip
    return {"service": entrance, "panels": listed}


def steps(plain: dict[str, Any], *, dwelling: bool) -> dict[str, Callable[[], object]]:
    loaded = plain | ({"dwelling": DWELLING} if dwelling else {})

    def both() -> None:
        """One reading, both studies."""
        tree = feeders.read(loaded)
        feeders.study(tree, EDITION)
        fault.study(fault.Asked(site=tree, choices=fault.Choices()), EDITION)

    def kept() -> str:
        answers = (
            feeders.answer(feeders.read(loaded), EDITION),
            fault.answer(fault.read(plain), EDITION),
        )
        return json.dumps([to_plain(one) for one in answers])

    tree, asked = feeders.read(loaded), fault.read(plain)
    return {
        "read": partial(feeders.read, loaded),
        "roll up": partial(feeders.study, tree, EDITION),
        "fault": partial(fault.study, asked, EDITION),
        "both, from the description": both,
        "both, with lines, as JSON": kept,
    }


def main() -> None:
    sys.stdout.write("Median milliseconds\n")
    for name, plain, dwelling in (
        ("home of 4 panels", site(4, system="1ph-240", fan_out=2), True),
        ("building of 20 panels", site(20, system="3ph-208", fan_out=4), False),
    ):
        sys.stdout.write(f"{name}\n")
        for step, work in steps(plain, dwelling=dwelling).items():
            sys.stdout.write(f"  {step:<28}{milliseconds(work):8.2f}\n")


if __name__ == "__main__":
    main()
