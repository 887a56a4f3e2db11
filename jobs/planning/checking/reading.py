"""Where does each visit stand in a plan, and what are the things of the problem called?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from jobs.planning.checking.breaks import forward
from jobs.planning.problem import Day, Person, Plan, Problem, Run, Span, Stop, Visit
from jobs.planning.words import clock, listed


@dataclass(frozen=True)
class Standing:
    """One visit on one run."""

    visit: Visit
    run: Run
    stop: Stop

    @property
    def start(self) -> int:
        return self.stop.start


@dataclass(frozen=True)
class Reading:
    """A problem and a plan for it, looked up by key; unknown keys are simply not in it."""

    problem: Problem
    plan: Plan

    @cached_property
    def people(self) -> dict[str, Person]:
        return {person.key: person for person in self.problem.people}

    @cached_property
    def visits(self) -> dict[str, Visit]:
        return {visit.key: visit for visit in self.problem.visits}

    @cached_property
    def days(self) -> dict[int, Day]:
        return {day.index: day for day in self.problem.days}

    @cached_property
    def standings(self) -> dict[str, list[Standing]]:
        """Every planned visit's places, in the order of the plan's runs."""
        placed: dict[str, list[Standing]] = {}
        for run in self.plan.runs:
            for stop in run.stops:
                if stop.visit in self.visits:
                    standing = Standing(self.visits[stop.visit], run, stop)
                    placed.setdefault(stop.visit, []).append(standing)
        return placed

    @cached_property
    def planned(self) -> list[tuple[Visit, list[Standing]]]:
        return [
            (visit, self.standings[visit.key])
            for visit in self.problem.visits
            if visit.key in self.standings
        ]

    @cached_property
    def left_out(self) -> list[Visit]:
        return [visit for visit in self.problem.visits if visit.key not in self.standings]

    def crew(self, run: Run) -> list[Person]:
        """The people of a run that are known, by key."""
        return [self.people[key] for key in sorted(run.people) if key in self.people]

    def breaks(self, run: Run) -> Sequence[Span]:
        return self.days[run.day].breaks if run.day in self.days else ()

    def end(self, standing: Standing) -> int:
        return forward(standing.start, standing.visit.duration, self.breaks(standing.run))

    def ended(self, key: str) -> int:
        """When the last crew of a planned visit is done with it."""
        return max(map(self.end, self.standings[key]))

    def name(self, key: str) -> str:
        """What a visit or a person is called."""
        thing = self.visits.get(key) or self.people.get(key)
        return (thing.name if thing else "") or key

    def names(self, keys: Iterable[str]) -> str:
        return listed([self.name(key) for key in sorted(keys)]) or "nobody"

    def day_name(self, index: int) -> str:
        day = self.days.get(index)
        return (day.name if day else "") or f"day {index + 1}"

    def at(self, time: int) -> str:
        """A time in words: its day and hour, "Tuesday, 9:30 a.m."; a number without a clock."""
        day = max(
            (day for day in self.problem.days if day.span.start <= time),
            key=lambda each: each.span.start,
            default=None,
        )
        hour = self.hour(time)
        return f"{self.day_name(day.index)}, {hour}" if day else hour

    def hour(self, time: int) -> str:
        """The hour alone."""
        if not self.problem.per_hour:
            return str(time)
        minutes = time * 60 // self.problem.per_hour % (24 * 60)
        return clock(dt.time(minutes // 60, minutes % 60))
