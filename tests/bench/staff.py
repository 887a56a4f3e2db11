"""The crews of an invented contractor over two weeks: who, with what licence, and who is sick."""

from __future__ import annotations

import random
from collections.abc import Sequence

from jobs.planning.problem import Day, Person, Span, Supervision

MIDNIGHT, HOUR = 1440, 60
APPRENTICE, JOURNEYMAN, MASTER = 1, 3, 4
ELECTRICAL, SERVICE, FIRE_ALARM = "electrical", "service work", "fire alarm"
ONE_TO_ONE = Supervision(domain=ELECTRICAL, level=JOURNEYMAN)
SICK = 0.02  # of the days begun healthy, someone falls ill for one to three days
TOOLS = ("conduit bender", "cable puller", "insulation tester")
NAMES = ("Mon", "Tue", "Wed", "Thu", "Fri")


def working_days() -> list[Day]:
    """Ten days of two weeks, 6 a.m. to 8 p.m. with half an hour off at noon."""
    made = []
    for n in range(10):
        index = n // 5 * 7 + n % 5
        at = index * MIDNIGHT
        made.append(
            Day(
                index=index,
                span=Span(start=at + 6 * HOUR, end=at + 20 * HOUR),
                breaks=[Span(start=at + 12 * HOUR, end=at + 12 * HOUR + 30)],
                name=f"{NAMES[n % 5]} of week {n // 5 + 1}",
            )
        )
    return made


def crews_of_two(
    count: int, days: Sequence[Day], dice: random.Random
) -> tuple[list[Person], list[frozenset[str]]]:
    """A journeyman or master and an apprentice each, two licensed in every third crew."""
    people: list[Person] = []
    for n in range(count):
        second = JOURNEYMAN if n % 3 == 2 else APPRENTICE
        for place, grade in enumerate((MASTER if n % 4 == 0 else JOURNEYMAN, second)):
            people.append(
                _person(f"{n + 1:02}{'ab'[place]}", 1 + len(people), grade, n, days, dice)
            )
    crews = [frozenset({people[2 * n].key, people[2 * n + 1].key}) for n in range(count)]
    return people, crews


def _person(
    key: str, home: int, grade: int, crew: int, days: Sequence[Day], dice: random.Random
) -> Person:
    levels = {ELECTRICAL: grade}
    if grade >= JOURNEYMAN:
        levels |= {SERVICE: 1} if crew % 3 != 1 else {}
        levels |= {FIRE_ALARM: 1} if crew % 3 == 0 else {}
    tools = {tool for n, tool in enumerate(TOOLS) if (crew + n) % 3 < 2}
    return Person(
        key=key,
        levels=levels,
        home=home,
        shifts=_shifts(days, dice),
        overtime=90,
        cost=3 if grade >= JOURNEYMAN else 2,
        carries=frozenset(tools) if key.endswith("a") else frozenset(),
        parts={"charger": 2, "panel": 1} if key.endswith("a") else {},
    )


def _shifts(days: Sequence[Day], dice: random.Random) -> dict[int, Span]:
    """7 a.m. to 3:30 p.m. but for the days away."""
    shifts, away = {}, 0
    for day in days:
        away = dice.randint(1, 3) if not away and dice.random() < SICK else max(0, away - 1)
        if not away:
            at = day.index * MIDNIGHT
            shifts[day.index] = Span(start=at + 7 * HOUR, end=at + 15 * HOUR + 30)
    return shifts
