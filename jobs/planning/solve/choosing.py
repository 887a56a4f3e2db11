"""Which search plans a problem: crews as they stand, or teams formed anew each day?"""

from __future__ import annotations

from collections.abc import Callable

from jobs.planning.problem import Problem
from jobs.planning.solve import solving, teams
from jobs.planning.solve.solving import Progress, Solution


def solve(
    problem: Problem,
    *,
    seconds: float | None = None,
    seed: int = 0,
    iterations: int | None = None,
    on_progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Solution:
    """The best plan found in time, by `teams.solve` where people may be grouped anew each day and
    completion is the objective, else by `solving.solve`: see these for what they plan, and what
    they raise."""
    anew = problem.regroup and problem.objective == "completion"
    search = teams.solve if anew else solving.solve
    return search(
        problem,
        seconds=seconds,
        seed=seed,
        iterations=iterations,
        on_progress=on_progress,
        stop=stop,
    )
