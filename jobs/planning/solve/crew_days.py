"""Which crews may go out on which days, and with what?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jobs.planning.problem import Day, Person, Problem, Visit
from jobs.planning.solve.allowance import supervised
from jobs.planning.solve.state import (
    Whole,
)
from jobs.planning.solve.tables import whole

MOST_STOPS = 60


@dataclass(frozen=True)
class CrewDay:
    """A run that may be driven: the people of one crew who work that day."""

    crew: int
    day: Day
    people: Sequence[Person]  # by key
    begin: int
    last: int

    @property
    def team(self) -> frozenset[str]:
        return frozenset(person.key for person in self.people)


def crew_days(problem: Problem) -> Sequence[CrewDay]:
    """Day by day, every crew of which somebody works that may go out without the others."""
    people = sorted(problem.people, key=lambda person: person.key)
    found = []
    for day in sorted(problem.days, key=lambda day: day.index):
        for number, crew in enumerate(problem.crews):
            there = [p for p in people if p.key in crew and day.index in p.shifts]
            if not there or not supervised(problem, there):
                continue
            shifts = [person.shifts[day.index] for person in there]
            begin = max(day.span.start, *(shift.start for shift in shifts))
            last = min(
                day.span.end,
                *(p.shifts[day.index].end + p.overtime for p in there),
            )
            if begin <= last:
                found.append(CrewDay(number, day, there, begin, last))
    return found


def teams(runs: Sequence[CrewDay]) -> Whole:
    numbers: dict[frozenset[str], int] = {}
    return whole(numbers.setdefault(run.team, len(numbers)) for run in runs)


def all_shifts(problem: Problem, person: Person) -> int:
    days = {day.index for day in problem.days}
    return sum(shift.end - shift.start for day, shift in person.shifts.items() if day in days)


def longest(runs: Sequence[CrewDay], visits: Sequence[Visit]) -> int:
    """How many stops a run may have at most."""
    widest = max((run.last - run.begin for run in runs), default=0)
    shortest = max(min((visit.duration for visit in visits), default=1), 1)
    return max(1, min(len(visits), widest // shortest + 1, MOST_STOPS))


def members(problem: Problem, runs: Sequence[CrewDay]) -> list[tuple[int, int]]:
    """Fixed.member: the people of each run and where their shift of that day ends."""
    number = {person.key: i for i, person in enumerate(problem.people)}
    return [(number[p.key], p.shifts[run.day.index].end) for run in runs for p in run.people]


def carried(people: Sequence[Person], parts: Sequence[str]) -> list[int]:
    return [sum(person.parts.get(part, 0) for person in people) for part in parts]
