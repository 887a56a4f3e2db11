"""How good are our plans for published problems? One line for each instance.

    python -m tests.bench.planning FAMILY NAME... [--data FOLDER] [--seconds S] [--seed N]

FAMILY is `roadef2007` (a folder for each instance in FOLDER) or `trsp` (a file NAME.txt for each).
Without names all instances of the folder are solved. With `--plans FOLDER` every sound plan is
written to FOLDER/NAME.json. A line says: name, value, best known value and gap where one is known
(from the folder's best_known.csv, else from the published table), seconds to that value, and the
verdict of the checker, which shares nothing with the solver.
"""

from __future__ import annotations

import argparse
import statistics
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from jobs.planning.checking.check import check
from jobs.planning.problem import Plan
from jobs.planning.solve import CannotPlan, solve
from tests.published import plans, roadef2007, technician_routing
from tests.published.instance import DATA, Instance


@dataclass(frozen=True)
class Family:
    """How a family's instances are listed and read from a folder."""

    names: Callable[[Path], list[str]]
    read: Callable[[Path, str], Instance]


FAMILIES = {
    "roadef2007": Family(roadef2007.names, lambda data, name: roadef2007.read(data / name)),
    "trsp": Family(
        technician_routing.names, lambda data, name: technician_routing.read(data / f"{name}.txt")
    ),
}


@dataclass(frozen=True)
class Outcome:
    """One instance solved: its plan, what the checker says, and when it was found."""

    instance: Instance
    plan: Plan
    seconds: float

    @property
    def broken(self) -> list[str]:
        return [each.sentence for each in check(self.instance.problem, self.plan).violations]

    @property
    def value(self) -> float:
        return self.instance.value(self.plan)

    @property
    def gap(self) -> float | None:
        """Per cent above the best known value; below zero is better than it."""
        known = self.instance.best_known
        return None if known is None else 100 * (self.value / known - 1)

    def line(self) -> str:
        name, known, broken = self.instance.name, self.instance.best_known, self.broken
        if broken:
            return f"{name:8} {len(broken)} violations, the first: {broken[0]}"
        best = "         - " if known is None else f"{known:11.2f}"
        gap = "      - " if self.gap is None else f"{self.gap:+7.3f}%"
        return f"{name:8} {self.value:11.2f} {best} {gap} {self.seconds:7.1f} s  sound"


def solved(instance: Instance, seconds: float, seed: int) -> Outcome:
    """The instance's plan after so many seconds."""
    found = solve(instance.problem, seconds=seconds, seed=seed)
    return Outcome(instance, found.plan, found.seconds_to_best)


def asked(argv: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="python -m tests.bench.planning", description=(__doc__ or "").splitlines()[0]
    )
    parser.add_argument("family", choices=FAMILIES)
    parser.add_argument("names", nargs="*", metavar="NAME")
    parser.add_argument("--data", type=Path, help="default: the published ones beside the project")
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--plans", type=Path, help="where to write sound plans")
    return parser.parse_args(argv)


def say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def main(argv: Sequence[str] | None = None) -> int:
    """Prints a line for each instance; 0 if every plan is sound, else 1."""
    wanted = asked(argv)
    family, data = FAMILIES[wanted.family], wanted.data or DATA / wanted.family
    names = wanted.names or family.names(data)
    if not names:
        say(f"No instances of {wanted.family} in {data}")
        return 1
    say(f"{'name':8} {'value':>11} {'best known':>11} {'gap':>8} {'found':>9}  checker")
    gaps, failed = [], False
    for name in names:
        line, gap = one(family, data, name, wanted)
        say(line)
        failed = failed or not line.endswith("sound")
        gaps += [] if gap is None else [gap]
    if len(gaps) > 1:
        say(f"mean gap {statistics.mean(gaps):+.3f}%, worst {max(gaps):+.3f}%")
    return int(failed)


def one(
    family: Family, data: Path, name: str, wanted: argparse.Namespace
) -> tuple[str, float | None]:
    """An instance's line and gap; what went wrong where it could not be read or planned."""
    try:
        outcome = solved(family.read(data, name), wanted.seconds, wanted.seed)
    except CannotPlan as wrong:
        return f"{name:8} not planned: {wrong}", None
    except (OSError, ValueError) as wrong:
        return f"{name:8} not read: {wrong}", None
    except AssertionError as wrong:  # the solver never hands out what its own check refuses
        return f"{name:8} no sound plan: {wrong}", None
    if outcome.broken:
        return outcome.line(), None
    if wanted.plans:
        wanted.plans.mkdir(parents=True, exist_ok=True)
        (wanted.plans / f"{name}.json").write_text(plans.written(outcome.plan))
    return outcome.line(), outcome.gap


if __name__ == "__main__":
    raise SystemExit(main())
