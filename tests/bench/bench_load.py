"""How long does one dwelling take? Run: python -m tests.bench.bench_load"""

from __future__ import annotations

import json
import statistics
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from panels.rules.working import from_plain, to_plain
from panels.worked_examples import read_file

EXAMPLES = Path(__file__).parents[1] / "worked_examples"
RUNS = 200


def milliseconds(work: Callable[[], object]) -> float:
    """The median over the runs, after one that warms up."""
    work()
    taken = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken) * 1000


def steps(path: Path) -> dict[str, Callable[[], object]]:
    """What is done for one home, from its description to the result read back from storage."""
    example = read_file(path)
    once = partial(example.question.answer, example.inputs, example.edition)
    saved = json.loads(json.dumps(to_plain(once())))
    return {
        "read": partial(read_file, path),
        "calculate": once,
        "save": partial(to_plain, once()),
        "read back": partial(from_plain, saved),
    }


def main() -> None:
    sys.stdout.write(f"Median milliseconds of {RUNS} runs\n")
    for name in ("d1b", "d2a", "d2b", "d4a_main"):
        taken = {
            step: milliseconds(work) for step, work in steps(EXAMPLES / f"{name}.toml").items()
        }
        told = ", ".join(f"{step} {time_:.2f}" for step, time_ in taken.items())
        sys.stdout.write(f"{name:<10}{told}\n")


if __name__ == "__main__":
    main()
