"""When does a crew leave, arrive, work and come back, if it starts its visits as planned?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from jobs.planning.checking.breaks import backward, between, forward
from jobs.planning.checking.reading import Reading
from jobs.planning.problem import Problem, Run, Stop, Visit


@dataclass(frozen=True)
class Leg:
    """One visit of a run: when the crew can be there at the earliest, when it starts and ends."""

    visit: Visit
    stop: Stop
    driving: int
    arrives: int
    ends: int


@dataclass(frozen=True)
class Timeline:
    """A run by the clock. It leaves as late as brings it to its first visit on time.

    `length` is from leaving to being back without breaks; all in the problem's units.
    """

    leaves: int
    legs: Sequence[Leg]
    back: int
    driving: int
    length: int


def timeline(reading: Reading, run: Run) -> Timeline | None:
    """The run's clock, of its known visits in their order; None where it has none."""
    problem, breaks = reading.problem, reading.breaks(run)
    stops = [stop for stop in run.stops if stop.visit in reading.visits]
    if not stops:
        return None
    crew = reading.crew(run)
    home = crew[0].home if problem.home_travel and crew else None
    first = reading.visits[stops[0].visit]
    leaves = backward(stops[0].start, drive(problem, home, first.place, stops[0]), breaks)
    here, now, legs = home, leaves, []
    for stop in stops:
        visit = reading.visits[stop.visit]
        driving = drive(problem, here, visit.place, stop)
        arrives = forward(now, driving, breaks)
        now = forward(stop.start, visit.duration, breaks)
        legs.append(Leg(visit, stop, driving, arrives, now))
        here = visit.place
    homeward = drive(problem, here, home)
    back = forward(now, homeward, breaks)
    driving = sum(leg.driving for leg in legs) + homeward
    return Timeline(leaves, legs, back, driving, between(leaves, back, breaks))


def drive(problem: Problem, here: int | None, there: int | None, stop: Stop | None = None) -> int:
    """Units from one place to the next, by way of the depot where the stop says so.

    None stands for no place: a run that starts at its first visit drives nothing to it.
    """
    by_depot = stop is not None and stop.stock_up and problem.depot is not None
    way = [here, problem.depot, there] if by_depot else [here, there]
    places = [place for place in way if place is not None]
    return sum(problem.travel[a][b] for a, b in pairwise(places))
