"""Which plan is best for a problem with crews as they stand, as far as could be found in time?"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from jobs.planning.checking.check import check
from jobs.planning.problem import Plan, Problem
from jobs.planning.solve.arrays import Model, model
from jobs.planning.solve.bounds import bound
from jobs.planning.solve.chance import seeded
from jobs.planning.solve.clock import COLD, HOT, Clock
from jobs.planning.solve.left_out import left_out
from jobs.planning.solve.read import read
from jobs.planning.solve.reasons import reasons
from jobs.planning.solve.refusing import CannotPlan, refuse
from jobs.planning.solve.search import anneal, begin, copy
from jobs.planning.solve.state import (
    HEAD,
    MUST,
    RUN,
    State,
    empty,
)
from jobs.planning.terms import Terms


@dataclass(frozen=True)
class Progress:
    """Where a search stands: rounds done, seconds since its start, its best plan's terms."""

    rounds: int
    seconds: float
    terms: tuple[int, ...]


@dataclass(frozen=True)
class Solution:
    """A plan that the checker found sound, its terms, and how it came about.

    `bound`: no plan can be below these terms (none where nothing is known). `reasons`: for each
    planned visit why it stands where it does; `left_out`: for each other the nearest thing that
    would have let it in.
    """

    plan: Plan
    terms: Terms
    bound: Terms
    seconds_to_best: float
    rounds: int
    reasons: Mapping[str, str] = field(default_factory=dict)
    left_out: Mapping[str, str] = field(default_factory=dict)


@dataclass
class Search:
    """One search under way: three plans over one set of arrays."""

    model: Model
    now: State
    kept: State
    best: State
    rounds: int = 0

    @classmethod
    def of(cls, problem: Problem, seed: int) -> Search:
        """With its first plan made greedily; everything is compiled when this returns."""
        made = model(problem)
        now, kept, best = (empty(made.fixed, made.longest, seeded(seed)) for _ in range(3))
        search = cls(made, now, kept, best)
        begin(made.fixed, now)
        for other in (kept, best):
            copy(made.fixed, now, other, True)
        search.go_on((HOT, COLD), 0)
        return search

    def go_on(self, heat: tuple[float, float], rounds: int) -> bool:
        """So many rounds more; whether a better plan was found."""
        self.rounds += rounds
        if not self.model.runs or not self.model.visits:
            return False
        done = anneal(self.model.fixed, self.now, self.kept, self.best, heat, rounds)
        return bool(done)

    @property
    def terms(self) -> tuple[int, ...]:
        return tuple(int(term) for term in self.best.total)


def solve(
    problem: Problem,
    *,
    seconds: float | None = None,
    seed: int = 0,
    iterations: int | None = None,
    on_progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Solution:
    """The best plan that was found in so many seconds or rounds (whichever is over first; 10
    seconds where neither is given), or until `stop()`.

    The same seed and `iterations` give the same plan unless time is over first. Raises CannotPlan
    where the problem asks for what is not planned here, or where no plan was found in which
    everything is done that has to be. `on_progress` is told of each better plan, at most every
    tenth of a second. Compiling (the first time) is not counted as time.
    """
    refuse(problem)
    search = Search.of(problem, seed)
    clock = Clock(seconds if seconds or iterations else 10.0, iterations)
    while (part := clock.next_part(search.rounds)) and not (stop and stop()):
        heat = clock.heat(search.rounds), clock.heat(search.rounds + part)
        if search.go_on(heat, part):
            clock.found = clock.elapsed
            if on_progress:
                on_progress(Progress(search.rounds, clock.elapsed, search.terms))
    return solution(problem, search, clock)


def solution(problem: Problem, search: Search, clock: Clock) -> Solution:
    """The plan of a search once the checker, which shares nothing with it, has found it sound."""
    if search.best.total[MUST]:
        raise CannotPlan(what_is_left(search.model, search.best))
    plan = read(search.model, search.best)
    checked = check(problem, plan)
    if not checked.sound:
        raise AssertionError("; ".join(each.sentence for each in checked.violations))
    return Solution(
        plan=plan,
        terms=checked.terms,
        bound=bound(search.model),
        seconds_to_best=clock.found,
        rounds=search.rounds,
        reasons=reasons(search.model, search.best),
        left_out=left_out(search.model, search.best, search.now),
    )


def what_is_left(found: Model, state: State) -> str:
    """Which visits that have to be done are in no plan that was found."""
    names = [
        visit.name or visit.key
        for x, visit in enumerate(found.visits)
        if state.at[x, RUN] < 0 and found.fixed.node[x, HEAD] == x and not visit.optional
    ]
    if not names:
        return "What is left out costs more together than may be."
    return f"No plan was found that has room for {', '.join(names)}."
