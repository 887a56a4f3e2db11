"""How good is a plan, term by term? The terms are told in `jobs.planning.terms`."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.planning.checking.breaks import forward
from jobs.planning.checking.reading import Reading, Standing
from jobs.planning.checking.timeline import Timeline, timeline
from jobs.planning.problem import Plan, Run, Visit

Clocked = list[tuple[Run, Timeline]]
WEIGHTS_OF_PRIORITIES = {1: 28, 2: 14, 3: 4}  # ROADEF 2007 challenge; all visits together count 1


def worth(reading: Reading) -> dict[str, int]:
    """Every term of every objective, and what is good to know beside them.

    Beside: `driving` and `overtime` in units of time of the people and `at_risk`, promised visits
    that would start late if every visit before them on their run took its pessimistic time.
    """
    clocked = [(run, clock) for run in reading.plan.runs if (clock := timeline(reading, run))]
    moved, shifted = _changes(reading)
    return {
        "broken": sum(1 for visit in reading.problem.visits if _broken(reading, visit)),
        "undone": sum(visit.weight for visit in reading.left_out),
        "late": sum(visit.weight * _late(reading, visit) for visit, _ in reading.planned),
        "moved": moved,
        "shifted": shifted,
        "effort": sum(_effort(reading, run, clock) for run, clock in clocked),
        "unfair": _unfair(reading, clocked),
        "completion": _completion(reading),
        "duration": sum(clock.length for _, clock in clocked),
        "driving": sum(clock.driving * len(reading.crew(run)) for run, clock in clocked),
        "overtime": sum(sum(_overtime(reading, run, clock).values()) for run, clock in clocked),
        "at_risk": sum(1 for run, clock in clocked for _ in _at_risk(reading, run, clock)),
    }


def _start(standings: list[Standing]) -> int:
    return min(each.start for each in standings)


def _broken(reading: Reading, visit: Visit) -> bool:
    standings = reading.standings.get(visit.key)
    return visit.promised is not None and not (
        standings and all(each.start in visit.promised for each in standings)
    )


def _late(reading: Reading, visit: Visit) -> int:
    return 0 if visit.due is None else max(0, reading.ended(visit.key) - visit.due)


def _changes(reading: Reading) -> tuple[int, int]:
    """Visits moved against the published plan, and by how much those not on another day shift."""
    moved = shifted = 0
    told = Reading(reading.problem, reading.problem.published or Plan())
    for visit, before in told.planned:
        now = reading.standings.get(visit.key)
        if now is None or {each.run.day for each in now} != {each.run.day for each in before}:
            moved += 1
            continue
        people, told_people = _people(now), _people(before)
        moved += not people <= told_people
        shifted += abs(_start(now) - _start(before))
    return moved, shifted


def _people(standings: list[Standing]) -> frozenset[str]:
    return frozenset[str]().union(*(each.run.people for each in standings))


def _overtime(reading: Reading, run: Run, clock: Timeline) -> dict[str, int]:
    """Per person of the run, the units from the end of their shift until it is back."""
    return {
        person.key: max(0, clock.back - person.shifts[run.day].end)
        for person in reading.crew(run)
        if run.day in person.shifts
    }


def _effort(reading: Reading, run: Run, clock: Timeline) -> int:
    overtime = _overtime(reading, run, clock)
    return sum(
        person.cost * (clock.driving + overtime.get(person.key, 0)) for person in reading.crew(run)
    )


def _unfair(reading: Reading, clocked: Clocked) -> int:
    worked = dict.fromkeys(reading.people, 0)
    for run, clock in clocked:
        busy = clock.driving + sum(leg.visit.duration for leg in clock.legs)
        for person in reading.crew(run):
            worked[person.key] += busy
    shifts = {
        person.key: sum(
            shift.end - shift.start for day, shift in person.shifts.items() if day in reading.days
        )
        for person in reading.people.values()
    }
    full = [1000 * worked[key] // shifts[key] for key in worked if shifts[key]]
    return max(full, default=0) - min(full, default=0)


def _completion(reading: Reading) -> int:
    ends = [(visit.priority, reading.ended(visit.key)) for visit, _ in reading.planned]
    latest = {
        priority: max((end for each, end in ends if each == priority), default=0)
        for priority in WEIGHTS_OF_PRIORITIES
    }
    weighed = sum(weight * latest[each] for each, weight in WEIGHTS_OF_PRIORITIES.items())
    return weighed + max((end for _, end in ends), default=0)


def _at_risk(reading: Reading, run: Run, clock: Timeline) -> Iterator[Visit]:
    breaks, now = reading.breaks(run), clock.leaves
    for leg in clock.legs:
        visit = leg.visit
        start = max(leg.stop.start, forward(now, leg.driving, breaks))
        if visit.promised and leg.stop.start in visit.promised and start > visit.promised.end:
            yield visit
        takes = max(visit.duration, visit.pessimistic or 0)
        now = forward(start, takes, breaks)
