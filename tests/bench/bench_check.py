"""How long does checking a full panel's record take? Run: python -m tests.bench.bench_check

First the rules alone on a 42-space panel with everything recorded, then from the rows of a site
of four such panels in a private PostgreSQL, with the number of queries.
"""

from __future__ import annotations

import datetime as dt
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from panels.editions import EDITIONS
from panels.rules.check.checker import check
from panels.rules.check.facts import Record
from tests.bench.bench_recalculate import servers
from tests.panels.rules.check.records import breaker, draw, house, inverter, plate, torque

SPACES, PANELS, RUNS = 42, 4, 50
ROOMS = ("kitchen", "bedroom", "bathroom", "garage", "hallway", "outdoors")


def main() -> None:
    record = a_full_panel()
    for key, edition in EDITIONS.items():
        report = check(record, edition)
        taken = milliseconds(lambda: check(record, edition))  # noqa: B023  measured at once
        tell(f"{key}: {len(report.findings)} findings on {SPACES} breakers in {taken:.1f} ms")
    with servers():
        import django

        django.setup()
        from_rows()


def a_full_panel() -> Record:
    some = [
        breaker(
            str(space), name=f"{ROOMS[space % 6]} {space}, north wall", serves="both",
            areas=(ROOMS[space % 6],), protection="dual", wire_size="12", wire_material="cu",
            terminal_c=60, interrupting_ka=10.0, draws=(draw(1200.0),), legs=("AB"[space % 2],),
        )
        for space in range(1, SPACES + 1)
    ]  # fmt: skip
    record = house(*some, panel=plate(interrupting_ka=22.0), sources=(inverter(),))
    return replace(record, torques=(torque(),), calculated_a=120.0, available_ka=9.0)


def from_rows() -> None:
    """The service that the pages and the API call, its queries counted."""
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    from panels.services.checks import checked
    from tests.factories.contractor import FirmFactory
    from tests.factories.panels import a_circuit, a_panel

    FirmFactory()
    first: Any = a_panel(name="Panel 1")
    for number in range(1, PANELS + 1):
        panel = first if number == 1 else a_panel(first.site, name=f"Panel {number}")
        for space in range(1, SPACES + 1):
            a_circuit(panel, space)

    def work() -> object:
        return checked(site=first.site, on=dt.date(2026, 11, 25), edition="2023")

    with CaptureQueriesContext(connection) as queries:
        work()
    tell(f"{PANELS} panels from rows: {len(queries)} queries, {milliseconds(work):.0f} ms")


def milliseconds(work: Callable[[], object]) -> float:
    """The median over the runs, after one that warms up."""
    work()
    taken = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken) * 1000


def tell(line: str) -> None:
    sys.stdout.write(line + "\n")


if __name__ == "__main__":
    main()
