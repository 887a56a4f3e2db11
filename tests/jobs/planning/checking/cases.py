"""Small problems with a plan that keeps every rule: the plan is made first, the rules around it."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace

from jobs.planning.problem import (
    After,
    Day,
    Need,
    Person,
    Pin,
    Plan,
    Problem,
    Run,
    Span,
    Stop,
    Supervision,
    Visit,
)

DOMAINS = ("service", "wiring")
TOOLS = ("ladder", "bender", "tester")
MIDNIGHT, HOUR = 1440, 60
DEPOT = 0
# Someone who can do anything any day and whom no sound plan uses; at home at the depot.
SPARE = "spare"
LEFT = "left"  # the one visit that no sound plan has


@dataclass(frozen=True)
class Case:
    problem: Problem
    plan: Plan

    def with_visit(self, key: str, **changes: object) -> Case:
        visits = [
            replace(visit, **changes) if visit.key == key else visit  # type: ignore[arg-type]
            for visit in self.problem.visits
        ]
        return Case(replace(self.problem, visits=visits), self.plan)

    def with_visits(self, *more: Visit) -> Case:
        return Case(replace(self.problem, visits=[*self.problem.visits, *more]), self.plan)

    def with_people(self, people: Sequence[Person]) -> Case:
        return Case(replace(self.problem, people=people), self.plan)

    def with_problem(self, **changes: object) -> Case:
        return Case(replace(self.problem, **changes), self.plan)  # type: ignore[arg-type]

    def with_runs(self, *runs: Run) -> Case:
        return Case(self.problem, Plan(runs=runs))

    def with_run(self, index: int, **changes: object) -> Case:
        runs = list(self.plan.runs)
        runs[index] = replace(runs[index], **changes)  # type: ignore[arg-type]
        return self.with_runs(*runs)

    def visit(self, key: str) -> Visit:
        return next(visit for visit in self.problem.visits if visit.key == key)

    def person(self, key: str) -> Person:
        return next(person for person in self.problem.people if person.key == key)


def sound_case(dice: random.Random) -> Case:
    """Up to three days, six people and a dozen visits; every kind of rule may be in it."""
    travel = _travel(dice, places=6)
    days = [_day(index, dice) for index in range(dice.randint(1, 3))]
    people = [_person(f"p{n}", days, dice) for n in range(dice.randint(2, 6))]
    runs: list[Run] = []
    visits: list[Visit] = []
    for day in days:
        for crew in _crews([each for each in people if day.index in each.shifts], dice):
            run, made = _run(crew, day, travel, len(visits), dice)
            runs.append(run)
            visits.extend(made)
    visits = _ordered(visits, runs, days, dice)
    left = Visit(key=LEFT, cost=dice.randint(1, 9), weight=2)
    problem = Problem(
        days=days,
        people=[*people, _spare(days)],
        visits=[*visits, left],
        travel=travel,
        depot=DEPOT,
        supervision=Supervision(domain="wiring", level=2, each=1),
        may_cost=left.cost + dice.randint(0, 3),
    )
    return Case(problem, Plan(runs=runs))


def _travel(dice: random.Random, places: int) -> list[list[int]]:
    spots = [(dice.randint(0, 20), dice.randint(0, 20)) for _ in range(places)]
    return [[abs(ax - bx) + abs(ay - by) for bx, by in spots] for ax, ay in spots]


def _day(index: int, dice: random.Random) -> Day:
    midnight = index * MIDNIGHT
    noon = midnight + 12 * HOUR
    breaks = [Span(start=noon, end=noon + 30)] if dice.random() < 0.5 else []
    span = Span(start=midnight + 4 * HOUR, end=midnight + 22 * HOUR)
    return Day(index=index, span=span, breaks=breaks, name=f"day {index + 1}")


def _shift(day: Day) -> Span:
    return Span(start=day.span.start + 3 * HOUR, end=day.span.start + 12 * HOUR)


def _person(key: str, days: Sequence[Day], dice: random.Random) -> Person:
    return Person(
        key=key,
        levels={domain: dice.randint(0, 3) for domain in DOMAINS},
        home=dice.randrange(6),
        shifts={day.index: _shift(day) for day in days if dice.random() < 0.8},
        overtime=dice.choice([0, 60]),
        cost=dice.randint(1, 3),
        carries=frozenset(tool for tool in TOOLS if dice.random() < 0.6),
        parts={"breaker": dice.randint(0, 3)},
    )


def _spare(days: Sequence[Day]) -> Person:
    return Person(
        key=SPARE,
        levels=dict.fromkeys(DOMAINS, 9),
        home=DEPOT,
        shifts={day.index: Span(start=0, end=9 * MIDNIGHT) for day in days},
        carries=frozenset(TOOLS),
        parts={"breaker": 99},
    )


def _crews(people: list[Person], dice: random.Random) -> list[list[Person]]:
    """One or two people each, never more learning than licensed."""
    dice.shuffle(people)
    licensed = [each for each in people if each.level("wiring") >= 2]
    learning = [each for each in people if each.level("wiring") < 2]
    return [
        [one, learning.pop()] if learning and dice.random() < 0.5 else [one] for one in licensed
    ]


def _run(
    crew: list[Person], day: Day, travel: list[list[int]], number: int, dice: random.Random
) -> tuple[Run, list[Visit]]:
    """Visits one after the other from a little after the shift's start, home before its end."""
    home = min(crew, key=lambda each: each.key).home
    here, now = home, day.span.start + 3 * HOUR + dice.randint(0, 40)
    parts = sum(person.parts["breaker"] for person in crew)
    stops: list[Stop] = []
    visits: list[Visit] = []
    stocked = False
    for n in range(dice.randint(0, 4)):
        place, stock_up = dice.randrange(6), dice.random() < 0.15
        way = travel[here][DEPOT] + travel[DEPOT][place] if stock_up else travel[here][place]
        start = after_work(now, way, day) + dice.choice([0, 0, 15])
        if day.breaks and day.breaks[0].start <= start < day.breaks[0].end:
            start = day.breaks[0].end
        duration = dice.randint(10, 90)
        end = after_work(start, duration, day)
        if after_work(end, travel[place][home], day) > day.span.start + 12 * HOUR:
            break
        stocked = stocked or stock_up
        takes = dice.randint(0, 2) if stocked else dice.randint(0, min(2, parts))
        parts -= 0 if stocked else takes
        visits.append(_visit(f"v{number + n}", crew, place, start, duration, takes, stocked, dice))
        stops.append(Stop(visit=f"v{number + n}", start=start, stock_up=stock_up))
        here, now = place, end
    return Run(day=day.index, people=frozenset(p.key for p in crew), stops=stops), visits


def after_work(time: int, work: int, day: Day) -> int:
    """The end of work minute by minute, as slowly as one cannot get it wrong."""
    while work:
        paused = any(pause.start <= time < pause.end for pause in day.breaks)
        time, work = time + 1, work - (not paused)
    return time


def _visit(
    key: str,
    crew: list[Person],
    place: int,
    start: int,
    duration: int,
    takes: int,
    stocked: bool,
    dice: random.Random,
) -> Visit:
    """A visit whose rules the crew at that time just keeps."""
    domain = dice.choice(DOMAINS)
    level = dice.randint(1, 3)
    carried = frozenset().union(*(person.carries for person in crew))
    pin = Pin(start=start, people=frozenset(p.key for p in crew), day=start // MIDNIGHT)
    return Visit(
        key=key,
        place=place,
        duration=duration,
        pessimistic=duration + dice.randint(0, 60),
        heads=dice.randint(1, len(crew)),
        needs=[
            Need(domain=domain, level=level, count=count)
            for count in [sum(1 for each in crew if each.level(domain) >= level)]
            if count
        ],
        windows=[Span(start=start - dice.randint(0, 30), end=start + dice.randint(0, 30))]
        if dice.random() < 0.5
        else [],
        promised=Span(start=start, end=start + 120) if dice.random() < 0.3 else None,
        earliest=start - dice.randint(0, 99),
        held_until=start - dice.randint(0, 99),
        due=start + dice.randint(0, 200),
        needs_tools=frozenset(TOOLS)
        if stocked
        else frozenset(dice.sample(sorted(carried), 1))
        if carried
        else frozenset(),
        needs_parts={"breaker": takes},
        pin=pin if dice.random() < 0.3 else None,
        optional=dice.random() < 0.5,
    )


def _ordered(
    visits: list[Visit], runs: list[Run], days: Sequence[Day], dice: random.Random
) -> list[Visit]:
    """Some come after one that is over, some have the people of another."""
    starts = {stop.visit: (stop.start, run) for run in runs for stop in run.stops}
    made = []
    for visit in visits:
        start, run = starts[visit.key]
        other = dice.choice(visits)
        day = days[starts[other.key][1].day]
        ended = after_work(starts[other.key][0], other.duration, day)
        if other.key != visit.key and ended <= start and dice.random() < 0.7:
            lag = start - ended
            after = After(
                visit=other.key, least=dice.randint(0, lag), most=lag + dice.randint(0, 9)
            )
            visit = replace(visit, after=[after])
        if starts[other.key][1].people == run.people:
            visit = replace(visit, together=other.key)
        made.append(visit)
    return made
