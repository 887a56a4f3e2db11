"""Small problems of teams formed each day, and their best completion by trying everything."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator, Sequence

from jobs.planning.problem import After, Day, Need, Person, Problem, Span, Visit

LONG = 120
WEIGHTS = {1: 28, 2: 14, 3: 4}


def problem(people: Sequence[Person], visits: Sequence[Visit], days: int = 2, **more) -> Problem:
    """Days end to end; nobody drives."""
    return Problem(
        days=[Day(index=d, span=Span(start=LONG * d, end=LONG * (d + 1))) for d in range(days)],
        people=people,
        visits=visits,
        travel=[[0]],
        **{"home_travel": False, "may_cost": 0, "objective": "completion", **more},
    )


def person(key: str, days: Sequence[int] = (0, 1), **levels: int) -> Person:
    shifts = {d: Span(start=LONG * d, end=LONG * (d + 1)) for d in days}
    return Person(key=key, levels=levels, shifts=shifts)


def by_chance(seed: int) -> Problem:
    """Three people, three visits, two days."""
    dice = random.Random(seed)
    people = [
        person(key, (0, 1) if dice.random() < 0.8 else (1,), wiring=dice.randint(1, 2))
        for key in ("ann", "bob", "cy")
    ]
    visits = [
        Visit(
            key=str(n),
            duration=dice.choice([15, 30, 60]),
            priority=dice.randint(1, 4),
            cost=dice.randint(1, 3),
            needs=[Need(domain="wiring", level=1, count=dice.randint(1, 2))],
            after=[After(visit=str(n - 1))] if n and dice.random() < 0.4 else [],
        )
        for n in range(3)
    ]
    return problem(people, visits, may_cost=dice.randint(0, 2))


def least_completion(of: Problem) -> int:
    """By trying every grouping of people, every place of each visit, and every order."""
    groupings = [
        list(partitions([p.key for p in of.people if d.index in p.shifts])) for d in of.days
    ]
    found = []
    for chosen in itertools.product(*groupings):
        teams = [(d, team) for d, groups in enumerate(chosen) for team in groups]
        for places in itertools.product([None, *teams], repeat=len(of.visits)):
            if possible(of, places):
                orders = itertools.permutations(range(len(of.visits)))
                found += [c for order in orders if (c := completion(of, places, order))]
    return min(found)


def partitions(keys: Sequence[str]) -> Iterator[list[frozenset[str]]]:
    if not keys:
        yield []
        return
    first, rest = keys[0], keys[1:]
    for size in range(len(rest) + 1):
        for others in itertools.combinations(rest, size):
            left = [key for key in rest if key not in others]
            for groups in partitions(left):
                yield [frozenset({first, *others}), *groups]


def possible(of: Problem, places: Sequence[tuple[int, frozenset[str]] | None]) -> bool:
    cost = sum(v.cost for v, place in zip(of.visits, places, strict=True) if place is None)
    levels = {p.key: p.levels for p in of.people}
    return (of.may_cost is None or cost <= of.may_cost) and all(
        sum(levels[key].get(need.domain, 0) >= need.level for key in place[1]) >= need.count
        for visit, place in zip(of.visits, places, strict=True)
        if place
        for need in visit.needs
    )


def completion(
    of: Problem, places: Sequence[tuple[int, frozenset[str]] | None], order: Sequence[int]
) -> int | None:
    """One after the other in that order, each as early as may be; None where that breaks a rule."""
    ends: dict[str, int] = {}
    free: dict[tuple[int, frozenset[str]], int] = {}
    latest = dict.fromkeys((1, 2, 3, 4), 0)
    for n in order:
        visit, place = of.visits[n], places[n]
        if place is None:
            continue
        if any(after.visit not in ends for after in visit.after):
            return None
        ready = [ends[after.visit] for after in visit.after]
        end = max([LONG * place[0], free.get(place, 0), *ready]) + visit.duration
        if end > LONG * (place[0] + 1):
            return None
        ends[visit.key] = free[place] = end
        latest[visit.priority] = max(latest[visit.priority], end)
    return sum(w * latest[p] for p, w in WEIGHTS.items()) + max(latest.values())
