"""Which plan is best where teams are formed anew each day, as far as could be found in time?"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from jobs.planning.checking.check import check
from jobs.planning.problem import Problem
from jobs.planning.solve.clock import Clock
from jobs.planning.solve.solving import Progress, Solution
from jobs.planning.solve.teams.beginning import beginnings
from jobs.planning.solve.teams.chain import Chain
from jobs.planning.solve.teams.model import Model, model
from jobs.planning.solve.teams.refusing import refuse

CHAINS = 2  # at the same time, in threads: nearly all their work is the solver's
PART = 2  # rounds of each chain before all go on from the best plan


def solve(
    problem: Problem,
    *,
    seconds: float | None = None,
    seed: int = 0,
    iterations: int | None = None,
    on_progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Solution:
    """The best plan found in so many seconds or rounds (whichever is over first; 10
    seconds where neither is given), or until `stop()`.

    The same seed and `iterations` give the same plan unless time is over first; a round is some
    rebuilding and one repair in each of two chains. Raises CannotPlan where the problem asks for
    what is not planned here, or where no first plan was found with all that has to be done.
    """
    refuse(problem)
    clock = Clock(seconds if seconds or iterations is not None else 10.0, iterations)
    made = model(problem)
    first = beginnings(made)
    chains = [Chain(made, first[n % len(first)], CHAINS * seed + n) for n in range(CHAINS)]
    best = _improve(chains, clock, on_progress, stop)
    return _solution(problem, made, best, clock)


def _improve(
    chains: list[Chain],
    clock: Clock,
    on_progress: Callable[[Progress], None] | None,
    stop: Callable[[], bool] | None,
) -> Chain:
    """All chains side by side, from the best plan so far after each part."""
    best = chains[0]
    if not best.best.place:
        return best
    clock.found = clock.elapsed

    def left() -> float | None:
        return None if clock.seconds is None else clock.seconds - clock.elapsed

    with ThreadPoolExecutor(len(chains)) as threads:
        while (part := _next_part(clock, best.rounds)) and not (stop and stop()):
            before = best.completion
            heat = clock.heat(best.rounds)
            going = [threads.submit(chain.go_on, heat, part, left) for chain in chains]
            for each in going:
                each.result()
            best = min(chains, key=lambda chain: chain.completion)
            if best.completion < before:
                clock.found = clock.elapsed
                if on_progress:
                    on_progress(Progress(best.rounds, clock.elapsed, (best.completion,)))
            for chain in chains:
                chain.take_over(best)
    return best


def _next_part(clock: Clock, done: int) -> int:
    """Rounds until the next look; 0: it is over."""
    if clock.seconds is not None and clock.elapsed >= clock.seconds:
        return 0
    return PART if clock.rounds is None else min(PART, clock.rounds - done)


def _solution(problem: Problem, made: Model, best: Chain, clock: Clock) -> Solution:
    """The plan once the checker, which shares nothing with this search, has found it sound."""
    plan = best.best.plan(made)
    checked = check(problem, plan)
    if not checked.sound:
        raise AssertionError("; ".join(each.sentence for each in checked.violations))
    return Solution(
        plan=plan,
        terms=checked.terms,
        bound={},
        seconds_to_best=clock.found,
        rounds=best.rounds,
    )
