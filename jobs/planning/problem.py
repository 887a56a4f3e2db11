"""What is to be planned: people, visits, days and the way between places; and what is a plan?

All times are whole units on one axis, from the midnight before day 0 (minutes for a firm; a
published problem may count finer), so windows, precedence and lags compare directly. Nothing here
knows a solver, a database or a clock.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

Objective = Literal["firm", "completion", "duration"]


@dataclass(frozen=True, kw_only=True)
class Span:
    """From `start` through `end`."""

    start: int
    end: int

    def __post_init__(self) -> None:
        if self.end < self.start:
            raise ValueError("a span ends no earlier than it starts")

    def __contains__(self, time: int) -> bool:
        return self.start <= time <= self.end


@dataclass(frozen=True, kw_only=True)
class Need:
    """At least `count` people of that `level` or above in a domain (a licence, a certificate)."""

    domain: str
    level: int = 1
    count: int = 1


@dataclass(frozen=True, kw_only=True)
class Person:
    """Someone who can be sent: what they may do, where their day starts and ends, and when.

    `shifts` gives, per day's index, the span worked, from leaving home to being back; a day that
    is missing is a day away. `overtime` is how far past the shift's end a run may go. `cost` is
    what one unit of driving or of overtime costs. `carries` are tools and equipment, `parts`
    counts of spare parts in the van at the start of each day. `name` is said in sentences.
    """

    key: str
    name: str = ""
    levels: Mapping[str, int] = field(default_factory=dict)
    home: int = 0
    shifts: Mapping[int, Span] = field(default_factory=dict)
    overtime: int = 0
    cost: int = 1
    carries: frozenset[str] = frozenset()
    parts: Mapping[str, int] = field(default_factory=dict)

    def level(self, domain: str) -> int:
        return self.levels.get(domain, 0)


@dataclass(frozen=True, kw_only=True)
class After:
    """Starts at least `least` and at most `most` units after the end of `visit` (None: no limit).

    A visit cannot be planned while one it comes after is left out.
    """

    visit: str
    least: int = 0
    most: int | None = None


@dataclass(frozen=True, kw_only=True)
class Pin:
    """Where a visit stands if it is planned: that day, exactly those people, that start.

    None leaves a thing free. Of a visit of several crews `people` are all of them together.
    """

    day: int | None = None
    people: frozenset[str] | None = None
    start: int | None = None


@dataclass(frozen=True, kw_only=True)
class Visit:
    """One stay at a place.

    `pessimistic`: how long it takes on a bad day. `needs` and `heads` are asked of each of its
    `crews`, which stand on different runs and start at the same time. `windows`: its start falls
    into one of them (empty: any time). `promised`: the window told to the customer; a start
    outside breaks the promise, and so does leaving it out. `earliest`, `held_until`: no start
    before (the second for a permit or a delivery); `held`: may not be planned at all, and why.
    `due`: ending later is late. `together`: the same people as that visit. `weight`: how much
    doing it counts; `priority`: its class, 1 to 4, where completion is the objective. `optional`:
    may be left out, at `cost` out of `Problem.may_cost`.
    """

    key: str
    name: str = ""
    place: int = 0
    duration: int = 60
    pessimistic: int | None = None
    needs: Sequence[Need] = ()
    heads: int = 1
    windows: Sequence[Span] = ()
    promised: Span | None = None
    earliest: int = 0
    due: int | None = None
    held_until: int = 0
    held: str = ""
    after: Sequence[After] = ()
    together: str | None = None
    crews: int = 1
    weight: int = 1
    priority: int = 0
    optional: bool = True
    cost: int = 0
    needs_tools: frozenset[str] = frozenset()
    needs_parts: Mapping[str, int] = field(default_factory=dict)
    pin: Pin | None = None


@dataclass(frozen=True, kw_only=True)
class Day:
    """A working day: all runs of it lie within `span`, overtime included.

    `breaks` are in order and apart; nobody works or drives in them. A visit or a drive under way
    when one begins goes on after it, so it ends later by the break's length; none starts from a
    break's start until just before its end.
    """

    index: int
    span: Span
    breaks: Sequence[Span] = ()
    name: str = ""


@dataclass(frozen=True, kw_only=True)
class Supervision:
    """On a run, for each person at `level` or above in `domain` at most `each` below it."""

    domain: str
    level: int
    each: int = 1
    source: str = "common practice, no source"


@dataclass(frozen=True, kw_only=True)
class Stop:
    """A visit on a run and when it starts. `stock_up`: by way of the depot, just before it."""

    visit: str
    start: int
    stock_up: bool = False


@dataclass(frozen=True, kw_only=True)
class Run:
    """One crew's day: who, and the stops in order."""

    day: int
    people: frozenset[str]
    stops: Sequence[Stop]


@dataclass(frozen=True, kw_only=True)
class Plan:
    """Runs; a visit of two crews stands on two runs at one time. What is on none is left out."""

    runs: Sequence[Run] = ()


@dataclass(frozen=True, kw_only=True)
class Problem:
    """Everything there is to plan, and by which rules.

    `travel[i][j]`: the time from place i to place j. `regroup`: people may be grouped anew each
    day; else the people of a run belong to one of `crews`. `depot`: the place where parts and
    tools are without limit. `home_travel`: a run starts and ends at the home of its first person
    (the smallest key), else at its first and last stop. `published`: the plan people were told.
    `may_cost`: the most that visits left out may cost together (None: no limit). `objective`: see
    `jobs.planning.terms`. `per_hour`: units in an hour, for words (None: times said as numbers).
    """

    days: Sequence[Day]
    people: Sequence[Person]
    visits: Sequence[Visit]
    travel: Sequence[Sequence[int]]
    crews: Sequence[frozenset[str]] = ()
    regroup: bool = True
    home_travel: bool = True
    depot: int | None = None
    supervision: Supervision | None = None
    published: Plan | None = None
    may_cost: int | None = None
    objective: Objective = "firm"
    per_hour: int | None = 60
