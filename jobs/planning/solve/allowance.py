"""May these people do a visit, and does a day come into question for it?"""

from __future__ import annotations

from collections.abc import Sequence

from jobs.planning.problem import Person, Problem, Visit


def supervised(problem: Problem, people: Sequence[Person]) -> bool:
    """Whether enough of them may supervise the others."""
    rule = problem.supervision
    if rule is None:
        return True
    able_to = sum(person.level(rule.domain) >= rule.level for person in people)
    return len(people) - able_to <= able_to * rule.each


def able(visit: Visit, people: Sequence[Person]) -> bool:
    """Whether they are enough, have the licences, and are those it is pinned to."""
    pinned = visit.pin.people if visit.pin else None
    if pinned is not None:
        keys = frozenset(person.key for person in people)
        if not (keys == pinned if visit.crews == 1 else keys <= pinned):
            return False
    return len(people) >= visit.heads and all(
        sum(person.level(need.domain) >= need.level for person in people) >= need.count
        for need in visit.needs
    )


def on_time(visit: Visit, day: int, begin: int, last: int) -> bool:
    """Whether it may start on that day between two moments, and be pinned there."""
    if visit.pin and visit.pin.day not in (None, day):
        return False
    if visit.pin and visit.pin.start is not None and not begin <= visit.pin.start <= last:
        return False
    begin = max(begin, visit.earliest, visit.held_until)
    last -= visit.duration
    return begin <= last and (
        not visit.windows or any(w.start <= last and w.end >= begin for w in visit.windows)
    )
