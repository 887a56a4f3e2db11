"""The best plan of a tiny problem, by looking at every one."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations, product

from jobs.planning.checking.breaks import forward
from jobs.planning.checking.check import check
from jobs.planning.problem import Plan, Problem, Run, Span, Stop, Visit
from jobs.planning.terms import rank


def best(problem: Problem) -> tuple[int, ...]:
    """The least rank over every division of the visits among crew days and every order, each stop
    as early as can be, waiting or not for what was promised. No visit may wait for another."""
    crew_days = [(day.index, crew) for day in problem.days for crew in problem.crews]
    found = []
    for choice in product(range(len(crew_days) + 1), repeat=len(problem.visits)):
        groups = [
            [visit for visit, to in zip(problem.visits, choice, strict=True) if to == number]
            for number in range(len(crew_days))
        ]
        lines = [list(runs(problem, *crew_days[n], group)) for n, group in enumerate(groups)]
        for made in product(*lines):
            checked = check(problem, Plan(runs=[run for run in made if run is not None]))
            if checked.sound:
                found.append(rank(checked.terms, problem.objective))
    return min(found)


def runs(
    problem: Problem, day: int, crew: frozenset[str], visits: list[Visit]
) -> Iterator[Run | None]:
    """Every order of the visits, and each promise kept by waiting or not."""
    if not visits:
        yield None
        return
    people = sorted((p for p in problem.people if p.key in crew), key=lambda p: p.key)
    people = [person for person in people if day in person.shifts]
    if not people:
        return
    span = next(each for each in problem.days if each.index == day)
    for order in permutations(visits):
        for waits in product((True, False), repeat=len(order)):
            now, here, stops = people[0].shifts[day].start, people[0].home, []
            for visit, wait in zip(order, waits, strict=True):
                now = forward(now, problem.travel[here][visit.place], span.breaks)
                now = start(visit, now, wait, span.breaks)
                stops.append(Stop(visit=visit.key, start=now))
                now, here = forward(now, visit.duration, span.breaks), visit.place
            yield Run(day=day, people=frozenset(p.key for p in people), stops=stops)


def start(visit: Visit, now: int, wait: bool, breaks: list[Span]) -> int:
    """The earliest start that the visit's own rules may allow; the checker has the last word."""
    now = max(now, visit.earliest, visit.held_until)
    if wait and visit.promised:
        now = max(now, visit.promised.start)
    for window in visit.windows:
        if now <= window.end:
            now = max(now, window.start)
            break
    for pause in breaks:
        if pause.start <= now < pause.end:
            now = pause.end
    return now
