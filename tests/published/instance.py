"""A published problem as ours, with what is known about its best plan."""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from jobs.planning.problem import Plan, Problem

DATA = Path(__file__).parents[3] / "shared" / "data" / "planning"
MISSING = f"the published problems are not beside the project ({DATA.name})"


@dataclass(frozen=True)
class Instance:
    """`value` is what the publication counts, of a sound plan; `best_known` in the same unit."""

    name: str
    problem: Problem
    value: Callable[[Plan], float]
    best_known: float | None = None
    source: str = ""


def best_known(folder: Path, name: str) -> float | None:
    """From the folder's `best_known.csv`: a heading, then a name and a value on each line."""
    file = folder / "best_known.csv"
    if not file.is_file():
        return None
    with file.open(newline="") as lines:
        rows = list(csv.reader(lines))[1:]
    return next((float(row[1]) for row in rows if row and row[0] == name), None)
