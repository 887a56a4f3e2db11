"""How long does an outage take, and a year of them? Run: python -m tests.bench.bench_standby"""

from __future__ import annotations

import resource
import sys
import time
from collections.abc import Callable
from typing import Any

import numpy as np

from panels.editions import edition
from panels.rules.questions import answer
from panels.rules.standby.assumptions import DAYS
from panels.rules.standby.description import outage_from
from panels.rules.standby.loads import clock, typical
from panels.rules.standby.outage import Outage
from panels.rules.standby.simulate import run

CIRCUITS, STAGES, WEEK, YEAR = 30, 5, 168, 8760
LANES = 730  # starts side by side, so that a year takes little memory


def a_house(hours: int) -> dict[str, Any]:
    """Thirty circuits in five stages and those that stay, on storage, sun and a generator."""
    habits = [name for name in DAYS if name != "even"]
    loads = []
    for number in range(CIRCUITS):
        row: dict[str, Any] = {"name": f"Circuit {number + 1}", "running": f"{150 + 20 * number} W"}
        row["habit"] = habits[number % len(habits)]
        if stage := number % (STAGES + 1):
            row["shed_order"] = stage
        loads.append(row)
    return {
        "start": "2026-01-01 00:00",
        "hours": hours,
        "loads": loads,
        "storage": [{"usable": "27 kWh", "inverter": "10 kW", "surge": "18 kVA"}],
        "solar": [{"peak": "6 kW"}],
        "generator": {
            "rating": "9 kVA", "full_per_h": 1.5, "half_per_h": 0.9, "fuel": 10, "fuel_unit": "gal",
        },
    }  # fmt: skip


def a_year_of_starts(week: Outage) -> np.ndarray[Any, Any]:
    """Hours that everything on lasts from each hour of the year, up to a week: a lane a start."""
    moments = clock(week.start, (YEAR + WEEK) * 4)
    whole = typical(week.loads, moments, [0])[:, 0]
    sunny = np.array([week.sun[step % week.sun.shape[0], 0] for step in range(len(moments))])
    lasts = []
    for first in range(0, YEAR, LANES):
        starts = np.arange(first, min(first + LANES, YEAR)) * 4
        span = np.arange(week.steps)[:, None] + starts[None, :]
        lasts.append(run(whole[span], sunny[span], week.supply).lasts)
    return np.concatenate(lasts)


def seconds(work: Callable[[], object]) -> tuple[float, object]:
    start = time.perf_counter()
    found = work()
    return time.perf_counter() - start, found


def main() -> None:
    book, plain = edition("2023"), a_house(WEEK)
    answer("outage", a_house(24), book)  # warms up
    taken, _result = seconds(lambda: answer("outage", plain, book))
    sys.stdout.write(
        f"a week at quarter-hours, {CIRCUITS} circuits, {STAGES + 1} stages, every line:"
        f" {taken * 1000:.0f} ms\n"
    )
    week = outage_from(plain)
    taken, lasts = seconds(lambda: a_year_of_starts(week))
    sys.stdout.write(
        f"a year of hourly starts ({YEAR} outages of up to a week): {taken:.1f} s;"
        f" shortest {np.min(lasts):.1f} h, median {np.median(lasts):.1f} h\n"  # type: ignore[arg-type]
    )
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    sys.stdout.write(f"peak memory {peak:.0f} MB\n")


if __name__ == "__main__":
    main()
