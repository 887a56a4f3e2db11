"""Where did a visit stand in the plan that people were told?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from jobs.planning.problem import Problem


@dataclass(frozen=True)
class Told:
    """A visit's day, start and all its people."""

    day: int
    start: int
    people: frozenset[str]


def told(problem: Problem) -> Mapping[str, Told]:
    """By visit; of several crews the first start counts. Empty where nothing was published."""
    found: dict[str, Told] = {}
    for run in problem.published.runs if problem.published else ():
        for stop in run.stops:
            was = found.get(stop.visit)
            found[stop.visit] = Told(
                run.day,
                min(stop.start, was.start) if was else stop.start,
                run.people | was.people if was else run.people,
            )
    return found
