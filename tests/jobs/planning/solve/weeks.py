"""Made-up weeks of a contractor, the same for the same seed."""

from __future__ import annotations

import math
import random
from dataclasses import replace

from jobs.planning.problem import (
    After,
    Day,
    Need,
    Person,
    Pin,
    Problem,
    Span,
    Visit,
)

DAY = 24 * 60
NOON = Span(start=12 * 60, end=12 * 60 + 30)


def at(day: int, hour: float) -> int:
    return day * DAY + int(hour * 60)


def week(
    seed: int, *, crews: int = 3, visits: int = 20, days: int = 5, everything: bool = True
) -> Problem:
    """Crews of a licensed and perhaps a second person in a town half an hour across; with
    `everything` there are promises, holds, lags, pins, absences and visits of two crews too."""
    rng = random.Random(seed)
    people, teams = [], []
    for number in range(crews):
        team = [f"{number:02}a"] + ([f"{number:02}b"] if rng.random() < 0.6 else [])
        teams.append(frozenset(team))
        for key in team:
            people.append(person(rng, key, number, days, everything))
    places = [(rng.random() * 30, rng.random() * 20) for _ in range(crews + visits + 1)]
    travel = [[math.ceil(math.dist(a, b)) for b in places] for a in places]
    calls = [call(rng, number, crews, days, everything) for number in range(visits)]
    several = {each.key for each in calls if each.crews > 1}
    return Problem(
        days=[
            Day(index=d, span=Span(start=at(d, 6), end=at(d, 20)), breaks=[pause(d)])
            for d in range(days)
        ],
        people=people,
        visits=[apart(each, several) for each in calls],
        travel=travel,
        crews=teams,
        regroup=False,
        depot=crews + visits,
    )


def apart(visit: Visit, several: set[str]) -> Visit:
    """The same people twice is not asked of a visit of several crews."""
    return replace(visit, together=None) if visit.together in several else visit


def pause(day: int) -> Span:
    return Span(start=at(day, 12), end=at(day, 12.5))


def person(rng: random.Random, key: str, home: int, days: int, everything: bool) -> Person:
    there = [d for d in range(days) if not everything or rng.random() < 0.93]
    licensed = key.endswith("a")
    return Person(
        key=key,
        levels={"licence": 2 if licensed else 1, "service": int(licensed and rng.random() < 0.6)},
        home=home,
        shifts={d: Span(start=at(d, 7), end=at(d, 15.5)) for d in there},
        overtime=60,
        carries=frozenset({"ladder"} if rng.random() < 0.7 else ()),
        parts={"breaker": rng.randrange(4)},
    )


def call(rng: random.Random, number: int, crews: int, days: int, everything: bool) -> Visit:
    visit = Visit(
        key=f"v{number:03}",
        place=crews + number,
        duration=rng.choice([30, 45, 60, 90, 120, 180, 240]),
        needs=[Need(domain="service")] if rng.random() < 0.2 else [],
        heads=2 if rng.random() < 0.15 else 1,
        weight=rng.choice([1, 1, 2, 5]),
        due=at(rng.randrange(days), 17) if rng.random() < 0.5 else None,
        needs_tools=frozenset({"ladder"} if rng.random() < 0.3 else ()),
        needs_parts={"breaker": 1} if rng.random() < 0.3 else {},
    )
    return special(rng, visit, number, days) if everything else visit


def special(rng: random.Random, visit: Visit, number: int, days: int) -> Visit:
    day, kind = rng.randrange(days), rng.random()
    morning = Span(start=at(day, 8), end=at(day, 10))
    if kind < 0.15:
        return replace(visit, promised=morning)
    if kind < 0.25:
        afternoon = Span(start=at(day, 13), end=at(day, 14))
        return replace(visit, windows=[morning, afternoon])
    if kind < 0.35:
        return replace(visit, held_until=at(day, 9))
    if kind < 0.45 and number:
        before = f"v{rng.randrange(number):03}"
        most = 3 * DAY if rng.random() < 0.5 else None
        return replace(visit, after=[After(visit=before, least=rng.choice([0, 120]), most=most)])
    if kind < 0.5 and number:
        return replace(visit, together=f"v{number - 1:03}")
    if kind < 0.56:
        return replace(visit, crews=2, together=None, heads=1)
    if kind < 0.6:
        return replace(visit, pin=Pin(day=day))
    return visit
