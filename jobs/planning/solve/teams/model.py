"""What does a search for teams have to know of a problem, by number instead of by name?

A skill is a domain and level that some visit asks for; the last skill is being there at all, which
everybody has and which a visit's heads are counted by.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from jobs.planning.problem import Day, Problem, Visit

Flags = npt.NDArray[np.bool_]
Counts = npt.NDArray[np.int64]
Skill = tuple[str, int]


@dataclass(frozen=True)
class Lag:
    """Another visit, and how much lies at least between the earlier's end and the later's start."""

    visit: int
    least: int


@dataclass(frozen=True)
class Task:
    """A visit: `need[s]` people of skill s, of which `asks` is as much as says it all."""

    visit: Visit
    need: Counts
    asks: Mapping[int, int]
    after: Sequence[Lag]
    before: Sequence[Lag]

    @property
    def earliest(self) -> int:
        return max(self.visit.earliest, self.visit.held_until)


@dataclass(frozen=True)
class Model:
    """`able[p, s]`: person p has skill s; `here[d, p]`: person p works on day d of `days`."""

    days: Sequence[Day]
    people: Sequence[str]
    tasks: Sequence[Task]
    able: Flags
    here: Flags
    may_cost: int | None

    @cached_property
    def breadth(self) -> Counts:
        """Of each person how many skills they have."""
        return np.asarray(self.able.sum(axis=1), dtype=np.int64)

    def ready(self, task: Task, ends: Mapping[int, int]) -> int:
        """The first moment a visit may start, as the visits before it end."""
        return max([task.earliest, *(ends[lag.visit] + lag.least for lag in task.after)])

    def affordable(self, left_out: set[int]) -> bool:
        """Whether these visits may all be left out."""
        if not all(self.tasks[i].visit.optional for i in left_out):
            return False
        cost = sum(self.tasks[i].visit.cost for i in left_out)
        return self.may_cost is None or cost <= self.may_cost


def model(problem: Problem) -> Model:
    """The problem's days in order, its people, and its visits in their own order."""
    skills = sorted({(need.domain, need.level) for v in problem.visits for need in v.needs})
    able = [
        [person.level(domain) >= level for domain, level in skills] + [True]
        for person in problem.people
    ]
    days = sorted(problem.days, key=lambda day: day.span.start)
    here = [[day.index in person.shifts for person in problem.people] for day in days]
    return Model(
        days=days,
        people=[person.key for person in problem.people],
        tasks=_tasks(problem, skills),
        able=np.array(able, bool).reshape(len(problem.people), len(skills) + 1),
        here=np.array(here, bool).reshape(len(days), len(problem.people)),
        may_cost=problem.may_cost,
    )


def _tasks(problem: Problem, skills: Sequence[Skill]) -> list[Task]:
    number = {visit.key: n for n, visit in enumerate(problem.visits)}
    after = [[Lag(number[a.visit], a.least) for a in v.after] for v in problem.visits]
    before: list[list[Lag]] = [[] for _ in problem.visits]
    for later, lags in enumerate(after):
        for lag in lags:
            before[lag.visit].append(Lag(later, lag.least))
    tasks = []
    for n, visit in enumerate(problem.visits):
        need = _need(visit, skills)
        tasks.append(Task(visit, need, _asks(need, skills), after[n], before[n]))
    return tasks


def _need(visit: Visit, skills: Sequence[Skill]) -> Counts:
    """Heads by skill: who has a level has those below it, so a need counts for these too."""
    need = [
        max((n.count for n in visit.needs if n.domain == domain and n.level >= level), default=0)
        for domain, level in skills
    ]
    return np.array([*need, max([visit.heads, *need])], dtype=np.int64)


def _asks(need: Counts, skills: Sequence[Skill]) -> dict[int, int]:
    """The needs that no other need implies."""
    asks = {}
    for s, (domain, level) in enumerate(skills):
        higher = [need[t] for t, (d, above) in enumerate(skills) if d == domain and above > level]
        if need[s] > max(higher, default=0):
            asks[s] = int(need[s])
    if need[-1] > max(asks.values(), default=0):
        asks[len(skills)] = int(need[-1])
    return asks
