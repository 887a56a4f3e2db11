"""Two weeks of an invented contractor as a problem: jobs, holds, windows, promises, order."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from jobs.planning.problem import After, Day, Need, Problem, Span, Visit
from tests.bench.staff import (
    ELECTRICAL,
    FIRE_ALARM,
    HOUR,
    JOURNEYMAN,
    MASTER,
    MIDNIGHT,
    ONE_TO_ONE,
    SERVICE,
    crews_of_two,
    working_days,
)
from tests.bench.town import YARD, minutes, somewhere

# Crews and visits of the three sizes that are measured.
SIZES = {"small": (3, 30), "middle": (10, 150), "large": (40, 600)}
LICENSED = Need(domain=ELECTRICAL, level=JOURNEYMAN)
OVERNIGHT = 14 * HOUR


def week(name: str, seed: int = 0) -> Problem:
    """One of SIZES by name."""
    crews, visits = SIZES[name]
    return week_of(crews, visits, seed)


def week_of(crews: int, visits: int, seed: int = 0) -> Problem:
    """So many crews and exactly so many visits; the same seed makes the same weeks."""
    dice = random.Random(seed)
    days = working_days()
    people, standing = crews_of_two(crews, days, dice)
    spots = [YARD, *(somewhere(dice) for _ in people)]
    made: list[Visit] = []
    while len(made) < visits:
        spots.append(somewhere(dice))
        job = Job(f"{len(spots) - len(people) - 1:03}", len(spots) - 1, days, dice)
        job.make(visits - len(made))
        made.extend(job.visits)
    return Problem(
        days=days,
        people=people,
        visits=made,
        travel=minutes(spots),
        crews=standing,
        regroup=False,
        depot=0,
        supervision=ONE_TO_ONE,
    )


@dataclass
class Job:
    """One customer's work at one place, as the visits it takes."""

    number: str
    place: int
    days: Sequence[Day]
    dice: random.Random
    visits: list[Visit] = field(default_factory=list)

    def make(self, room: int) -> None:
        """Some kind of job of at most `room` visits."""
        kinds = [kind for kind in KINDS if KINDS[kind][1] <= room]
        kind = self.dice.choices(kinds, [KINDS[each][2] for each in kinds])[0]
        KINDS[kind][0](self)

    def add(self, what: str, usual: int, **rules: object) -> Visit:
        """A visit that takes about `usual` minutes, a third longer or more on a bad day."""
        takes = 15 * round(self.dice.uniform(0.8, 1.2) * usual / 15)
        visit = Visit(
            key=f"{self.number} {what}",
            place=self.place,
            duration=takes,
            pessimistic=round(takes * self.dice.uniform(1.3, 1.6)),
            **({"needs": [LICENSED]} | rules),  # type: ignore[arg-type]
        )
        self.visits.append(visit)
        return visit

    def some_day(self, last: int = 10) -> Day:
        return self.days[self.dice.randrange(min(last, len(self.days)))]

    def promise(self) -> Span:
        """A morning or an afternoon, as the customer was told."""
        at = self.some_day().index * MIDNIGHT
        first = self.dice.choice([8, 12])
        return Span(start=at + first * HOUR, end=at + (first + 3) * HOUR)

    def hold(self, chance: float) -> int:
        """The morning that what the job waits for is expected, or 0."""
        held = self.dice.random() < chance
        return self.some_day(6).index * MIDNIGHT + 7 * HOUR if held else 0

    def due(self) -> int:
        return self.some_day().index * MIDNIGHT + 16 * HOUR

    def mornings(self) -> list[Span]:
        """When the inspector comes: 8 to 11:30 of any working day."""
        return [
            Span(start=day.index * MIDNIGHT + 8 * HOUR, end=day.index * MIDNIGHT + 11 * HOUR + 30)
            for day in self.days
        ]


def service_call(job: Job) -> None:
    told = job.promise() if job.dice.random() < 0.7 else None
    needs = [LICENSED, Need(domain=SERVICE)]
    job.add("service call", 90, needs=needs, promised=told, due=job.due(), weight=4)


def charger(job: Job) -> None:
    told = job.promise() if job.dice.random() < 0.4 else None
    job.add("charger", 180, promised=told, needs_parts={"charger": 1}, weight=3)


def panel_change(job: Job) -> None:
    held = "the utility has not agreed to disconnect" if job.dice.random() < 0.08 else ""
    hold = job.hold(0.4)
    swap = job.add(
        "panel change", 330, heads=2, needs_parts={"panel": 1}, held=held, held_until=hold,
        due=max(job.due(), hold + 2 * MIDNIGHT), weight=6,
    )  # fmt: skip
    after = [After(visit=swap.key, least=OVERNIGHT)]
    job.add("final inspection", 45, after=after, windows=job.mornings(), weight=3)


def new_house(job: Job) -> None:
    rough = job.add("rough-in", 390, heads=2, held_until=job.hold(0.5), weight=6)
    seen = job.add(
        "rough inspection", 45, windows=job.mornings(), weight=4,
        after=[After(visit=rough.key, least=OVERNIGHT, most=5 * MIDNIGHT)],
    )  # fmt: skip
    after = [After(visit=seen.key, least=2 * MIDNIGHT - 6 * HOUR)]
    job.add("trim-out", 330, heads=2, after=after, together=rough.key, weight=4)


def feeder_pull(job: Job) -> None:
    tools = frozenset({"cable puller"})
    master = [Need(domain=ELECTRICAL, level=MASTER if job.dice.random() < 0.2 else JOURNEYMAN)]
    job.add("gear set", 240, heads=2, needs=master, held_until=job.hold(0.3), weight=5)
    after = [After(visit=job.visits[-1].key)]
    job.add("feeder pull", 180, heads=2, crews=2, after=after, weight=7)
    job.add("feeder test", 60, after=[After(visit=job.visits[-1].key)], needs_tools=tools, weight=4)


def fire_alarm(job: Job) -> None:
    needs = [LICENSED, Need(domain=FIRE_ALARM)]
    job.add("fire alarm", 240, needs=needs, windows=job.mornings(), due=job.due(), weight=5)


# How each kind is made, its number of visits, and how often it comes.
KINDS: Mapping[str, tuple[Callable[[Job], None], int, int]] = {
    "service call": (service_call, 1, 10),
    "charger": (charger, 1, 4),
    "fire alarm": (fire_alarm, 1, 3),
    "panel change": (panel_change, 2, 4),
    "new house": (new_house, 3, 3),
    "feeder pull": (feeder_pull, 3, 1),
}
