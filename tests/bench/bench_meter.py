"""How long does a year of quarter hours take to read, and how much memory?

Run: python -m tests.bench.bench_meter

A made-up year of 35,040 readings as Green Button XML (about 12 MB), and the same as CSV, is read
each in a process of its own, beside the standard library's parser building the whole tree.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

from panels.rules.meter import read_file
from panels.rules.meter.series import packed
from tests.panels import metering

MEGABYTE = 1024 * 1024


def ours(path: Path) -> int:
    """Read, ordered, judged and packed for storing, as an upload is."""
    with path.open("rb") as file:
        found = read_file(file, metering.HERE)
    packed(found.series)
    return len(found.series)


def whole_tree(path: Path) -> int:
    """Only parsed and summed up, nothing checked."""
    tree = ElementTree.parse(path)  # noqa: S314 - a file made here
    values = [int(one.text or 0) for one in tree.iter("{http://naesb.org/espi}value")]
    return len(values)


WAYS: dict[str, Callable[[Path], int]] = {"ours": ours, "whole tree": whole_tree}


def measured(way: str, path: Path) -> dict[str, float]:
    """Seconds without the tracer, then the peak of what Python allocated, and of the process."""
    start = time.perf_counter()
    count = WAYS[way](path)
    seconds = time.perf_counter() - start
    resident = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    tracemalloc.start()
    WAYS[way](path)
    traced = tracemalloc.get_traced_memory()[1] / MEGABYTE
    return {"readings": count, "seconds": seconds, "traced": traced, "resident": resident}


def in_a_process(way: str, path: Path) -> dict[str, float]:
    command = [sys.executable, "-m", "tests.bench.bench_meter", way, str(path)]
    told = subprocess.run(command, capture_output=True, text=True, check=True)
    found: dict[str, float] = json.loads(told.stdout)
    return found


def main() -> None:
    if len(sys.argv) == 3:
        sys.stdout.write(json.dumps(measured(sys.argv[1], Path(sys.argv[2]))))
        return
    rows = metering.quarters(365)
    with tempfile.TemporaryDirectory() as folder:
        feed, table = Path(folder) / "year.xml", Path(folder) / "year.csv"
        feed.write_text("".join(metering.feed((metering.DELIVERED, rows))))
        table.write_bytes(metering.table(rows).read())
        seconds = {}
        for way, path in (("ours", feed), ("whole tree", feed), ("ours", table)):
            found = in_a_process(way, path)
            size = path.stat().st_size / MEGABYTE
            seconds[way, path] = found["seconds"]
            sys.stdout.write(
                f"{way:<11}{path.name}  {size:5.1f} MB  {found['readings']:,.0f} readings"
                f"  {found['seconds']:.2f} s  {found['traced']:.1f} MB allocated"
                f"  {found['resident']:.0f} MB resident\n"
            )
        ratio = seconds["ours", feed] / seconds["whole tree", feed]
        sys.stdout.write(f"Of the whole-tree parse's time: {ratio:.2f}\n")


if __name__ == "__main__":
    main()
