"""How much better than the hand rule are our plans? Run: python -m tests.bench.bench_weeks

Invented weeks of three sizes; each line gives the terms of `jobs.planning.terms` in their order,
the first counting most. Every plan has passed the checker.
"""

from __future__ import annotations

import sys
import time

from jobs.planning.checking.check import check
from jobs.planning.problem import Plan, Problem
from jobs.planning.solve import solve
from jobs.planning.terms import ORDER
from tests.bench.by_hand import by_hand
from tests.bench.weeks import SIZES, week

SECONDS = (2.0, 10.0)
TERMS = ORDER["firm"]


def line(problem: Problem, plan: Plan, who: str, took: float) -> str:
    """A sound plan's terms; the first violation of another."""
    checked = check(problem, plan)
    if not checked.sound:
        raise AssertionError(f"{who}: {checked.violations[0].sentence}")
    said = " ".join(f"{checked.terms[name]:9}" for name in TERMS)
    return f"  {who:12} {took:6.2f} s {said}"


def say(words: str) -> None:
    sys.stdout.write(f"{words}\n")
    sys.stdout.flush()


def main() -> None:
    for name, (crews, visits) in SIZES.items():
        problem = week(name)
        say(f"{crews} crews, {visits} visits, {sum(bool(v.promised) for v in problem.visits)} "
            "promised")  # fmt: skip
        say(f"  {'':12} {'':8} " + " ".join(f"{term:>9}" for term in TERMS))
        begun = time.perf_counter()
        plan = by_hand(problem)
        say(line(problem, plan, "by hand", time.perf_counter() - begun))
        for seconds in SECONDS:
            found = solve(problem, seconds=seconds, seed=0)
            say(line(problem, found.plan, "ours", seconds))


if __name__ == "__main__":
    main()
