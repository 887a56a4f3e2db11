"""A problem as arrays: which crew days are there, who may do what on them, what is near what?"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate

import numpy as np
from numpy.typing import NDArray

from jobs.planning.problem import Day, Person, Problem, Span, Visit
from jobs.planning.solve.allowance import able, on_time, supervised
from jobs.planning.solve.published import Told, told
from jobs.planning.solve.scales import scales, warmths
from jobs.planning.solve.state import (
    AFTER,
    BEFORE,
    BEGIN,
    BREAKS,
    BREAKS_END,
    CLOSES,
    CREW,
    CREWS,
    DAY,
    DUE,
    DURATION,
    FAR,
    FIRM,
    FITS,
    HARD,
    HEAD,
    LAST,
    LASTS,
    LINKS,
    LINKS_END,
    MEMBERS,
    MEMBERS_END,
    MOVES,
    NEVER,
    OPEN_FOR,
    ORIGIN,
    OUT_COST,
    PLACE,
    PROMISED,
    PROMISED_END,
    RANK,
    RATE,
    RELEASE,
    REQUIRED,
    TEAM,
    TOGETHER,
    TOLD_DAY,
    TOLD_START,
    TOOLED,
    WEIGHT,
    WINDOWS,
    WINDOWS_END,
    Fixed,
    Whole,
)

NEAR = 120  # neighbours noted per visit
MOST_STOPS = 60
LONG = 1 << 40  # longer than any horizon, with room to be multiplied

Link = tuple[int, int, int, int]
Bits = NDArray[np.int8]


@dataclass(frozen=True)
class CrewDay:
    """A run that may be driven: the people of one crew who work that day."""

    crew: int
    day: Day
    people: Sequence[Person]  # by key
    begin: int
    last: int

    @property
    def team(self) -> frozenset[str]:
        return frozenset(person.key for person in self.people)


@dataclass(frozen=True)
class Model:
    """The arrays, with what their rows stand for."""

    problem: Problem
    runs: Sequence[CrewDay]
    visits: Sequence[Visit]  # one per node
    fixed: Fixed
    longest: int


def model(problem: Problem) -> Model:
    """The arrays of a problem with crews as they stand."""
    runs, visits = crew_days(problem), nodes(problem.visits)
    parts = sorted({part for visit in visits for part in visit.needs_parts})
    travel, before = ways(problem), told(problem)
    match = matches(problem, runs, visits, before)
    windows, breaks = [open_windows(v) for v in visits], [run.day.breaks for run in runs]
    links = linked(visits)
    fixed = Fixed(
        node=node_table(problem, visits, windows, links, match, travel),
        run=run_table(problem, runs, breaks, sum(map(len, windows))),
        match=match,
        span=table([(span.start, span.end) for each in (*windows, *breaks) for span in each], 2),
        link=table([link for each in links for link in each], 4),
        member=table(members(problem, runs), 2),
        person=table([(p.cost, all_shifts(problem, p)) for p in problem.people], 2),
        parts=table([[v.needs_parts.get(p, 0) for p in parts] for v in visits], len(parts)),
        carry=table([carried(run.people, parts) for run in runs], len(parts)),
        near=nearest(whole(visit.place for visit in visits), travel),
        travel=travel,
        scale=scales(problem),
        warmth=warmths(problem),
        setting=whole(
            (
                DURATION if problem.objective == "duration" else FIRM,
                -1 if problem.depot is None else problem.depot,
                problem.may_cost or 0,
            )
        ),
    )
    return Model(problem, runs, visits, fixed, longest(runs, visits))


def node_table(
    problem: Problem,
    visits: Sequence[Visit],
    windows: Sequence[Sequence[Span]],
    links: Sequence[Sequence[Link]],
    match: Bits,
    travel: Whole,
) -> Whole:
    """Fixed.node."""
    before, places = told(problem), whole(visit.place for visit in visits)
    costs = problem.may_cost is not None
    first_window, first_link = offsets(windows, 0), offsets(links, 0)
    columns = {
        PLACE: places,
        LASTS: whole(visit.duration for visit in visits),
        RELEASE: whole(max(visit.earliest, visit.held_until, 0) for visit in visits),
        DUE: whole(NEVER if visit.due is None else visit.due for visit in visits),
        WEIGHT: whole(visit.weight for visit in visits),
        REQUIRED: whole(not visit.optional for visit in visits),
        OUT_COST: whole(visit.cost if costs else 0 for visit in visits),
        CREWS: whole(visit.crews for visit in visits),
        HEAD: heads(problem.visits),
        PROMISED: whole(v.promised.start if v.promised else NEVER for v in visits),
        PROMISED_END: whole(v.promised.end if v.promised else NEVER for v in visits),
        WINDOWS: first_window[:-1],
        WINDOWS_END: first_window[1:],
        LINKS: first_link[:-1],
        LINKS_END: first_link[1:],
        TOLD_DAY: whole(before[v.key].day if v.key in before else -1 for v in visits),
        TOLD_START: whole(before[v.key].start if v.key in before else -1 for v in visits),
        RANK: ranks(visits),
        HARD: (match & FITS > 0).sum(axis=0),
        FAR: travel[np.ix_(places, places)].sum(axis=1) // max(len(visits), 1),
        OPEN_FOR: whole(open_for(visit) for visit in visits),
        CLOSES: whole(closes(visit) for visit in visits),
    }
    return in_order(columns, len(visits))


def run_table(
    problem: Problem, runs: Sequence[CrewDay], breaks: Sequence[Sequence[Span]], at: int
) -> Whole:
    """Fixed.run; `at`: where the breaks begin among the spans."""
    first_member, first_break = offsets([run.people for run in runs], 0), offsets(breaks, at)
    nowhere = len(problem.travel)
    columns = {
        BEGIN: whole(run.begin for run in runs),
        LAST: whole(run.last for run in runs),
        ORIGIN: whole(run.people[0].home if problem.home_travel else nowhere for run in runs),
        DAY: whole(run.day.index for run in runs),
        TEAM: teams(runs),
        CREW: whole(run.crew for run in runs),
        RATE: whole(sum(person.cost for person in run.people) for run in runs),
        MEMBERS: first_member[:-1],
        MEMBERS_END: first_member[1:],
        BREAKS: first_break[:-1],
        BREAKS_END: first_break[1:],
    }
    return in_order(columns, len(runs))


def crew_days(problem: Problem) -> Sequence[CrewDay]:
    """Day by day, every crew of which somebody works that may go out without the others."""
    people = sorted(problem.people, key=lambda person: person.key)
    found = []
    for day in sorted(problem.days, key=lambda day: day.index):
        for number, crew in enumerate(problem.crews):
            there = [p for p in people if p.key in crew and day.index in p.shifts]
            if not there or not supervised(problem, there):
                continue
            shifts = [person.shifts[day.index] for person in there]
            begin = max(day.span.start, *(shift.start for shift in shifts))
            last = min(
                day.span.end,
                *(p.shifts[day.index].end + p.overtime for p in there),
            )
            if begin <= last:
                found.append(CrewDay(number, day, there, begin, last))
    return found


def nodes(visits: Sequence[Visit]) -> Sequence[Visit]:
    """One per crew that a visit asks for."""
    return [visit for visit in visits for _ in range(visit.crews)]


def heads(visits: Sequence[Visit]) -> Whole:
    firsts = [0, *accumulate(visit.crews for visit in visits)]
    return whole(first for first, v in zip(firsts, visits, strict=False) for _ in range(v.crews))


def matches(
    problem: Problem, runs: Sequence[CrewDay], visits: Sequence[Visit], before: Mapping[str, Told]
) -> Bits:
    """Fixed.match."""
    found = np.zeros((len(runs), len(visits)), np.int8)
    known = {visit.key for visit in visits}
    for j, visit in enumerate(visits):
        was = before.get(visit.key)
        plannable = not visit.held and all(after.visit in known for after in visit.after)
        for i, run in enumerate(runs):
            moves = was is not None and (run.day.index != was.day or not run.team <= was.people)
            found[i, j] = MOVES * moves + plannable * bits(problem, run, visit)
    return found


def bits(problem: Problem, run: CrewDay, visit: Visit, longer: int = 0) -> int:
    """Whether these people may do a visit that day, were they to stay so much longer; and whether
    without going by the depot."""
    tools = frozenset[str]().union(*(person.carries for person in run.people))
    tooled = visit.needs_tools <= tools
    fits = (
        (tooled or problem.depot is not None)
        and able(visit, run.people)
        and on_time(visit, run.day.index, run.begin, run.last + longer)
    )
    return FITS * fits + TOOLED * tooled


def open_windows(visit: Visit) -> Sequence[Span]:
    """The windows of a visit in order; a pinned start is the only one."""
    if visit.pin and visit.pin.start is not None:
        start = visit.pin.start
        open_then = not visit.windows or any(start in window for window in visit.windows)
        return [Span(start=start, end=start)] if open_then else [Span(start=NEVER, end=NEVER)]
    return sorted(visit.windows, key=lambda window: (window.start, window.end))


def open_for(visit: Visit) -> int:
    spans = [visit.promised] if visit.promised else open_windows(visit)
    return sum(span.end - span.start for span in spans) if spans else LONG


def closes(visit: Visit) -> int:
    spans = [visit.promised] if visit.promised else open_windows(visit)
    return min(
        max((span.end for span in spans), default=LONG), LONG if visit.due is None else visit.due
    )


def linked(visits: Sequence[Visit]) -> Sequence[Sequence[Link]]:
    """For each node those it stands in a rule with: other, kind, least and most."""
    first: dict[str, int] = {}
    for i, visit in enumerate(visits):
        first.setdefault(visit.key, i)
    rows: list[list[Link]] = [[] for _ in visits]
    for i, visit in enumerate(visits):
        for after in visit.after:
            if (other := first.get(after.visit)) is None:
                continue
            most = NEVER if after.most is None else after.most
            rows[i].append((other, AFTER, after.least, most))
            if first[visit.key] == i:
                for k in range(other, other + visits[other].crews):
                    rows[k].append((i, BEFORE, after.least, most))
        if (same := first.get(visit.together or "")) is not None:
            rows[i].append((same, TOGETHER, 0, 0))
            rows[same].append((i, TOGETHER, 0, 0))
    return rows


def nearest(places: Whole, travel: Whole) -> Whole:
    """For each node all others (at most NEAR) by the way there and back; itself comes first."""
    way = travel[np.ix_(places, places)] + travel[np.ix_(places, places)].T
    np.fill_diagonal(way, -1)
    return np.ascontiguousarray(np.argsort(way, axis=1, kind="stable")[:, :NEAR])


def ways(problem: Problem) -> Whole:
    """The travel matrix with one place more that is no way from anywhere, for runs without home."""
    known = np.array(problem.travel, np.int64).reshape(len(problem.travel), -1)
    return np.pad(known, ((0, 1), (0, 1)))


def teams(runs: Sequence[CrewDay]) -> Whole:
    numbers: dict[frozenset[str], int] = {}
    return whole(numbers.setdefault(run.team, len(numbers)) for run in runs)


def all_shifts(problem: Problem, person: Person) -> int:
    days = {day.index for day in problem.days}
    return sum(shift.end - shift.start for day, shift in person.shifts.items() if day in days)


def longest(runs: Sequence[CrewDay], visits: Sequence[Visit]) -> int:
    """How many stops a run may have at most."""
    widest = max((run.last - run.begin for run in runs), default=0)
    shortest = max(min((visit.duration for visit in visits), default=1), 1)
    return max(1, min(len(visits), widest // shortest + 1, MOST_STOPS))


def members(problem: Problem, runs: Sequence[CrewDay]) -> list[tuple[int, int]]:
    """Fixed.member: the people of each run and where their shift of that day ends."""
    number = {person.key: i for i, person in enumerate(problem.people)}
    return [(number[p.key], p.shifts[run.day.index].end) for run in runs for p in run.people]


def carried(people: Sequence[Person], parts: Sequence[str]) -> list[int]:
    return [sum(person.parts.get(part, 0) for person in people) for part in parts]


def ranks(visits: Sequence[Visit]) -> Whole:
    """What counts most first: what must be done, what was promised, what weighs more."""
    sort = sorted({worth(visit) for visit in visits})
    return whole(sort.index(worth(visit)) for visit in visits)


def worth(visit: Visit) -> tuple[bool, bool, int]:
    return visit.optional, visit.promised is None, -visit.weight


def offsets(lists: Sequence[Sequence[object]], at: int) -> Whole:
    """Where each list begins when they lie one after the other from `at` on, and the end."""
    return at + whole([0, *accumulate(map(len, lists))])


def in_order(columns: Mapping[int, Whole], rows: int) -> Whole:
    """Columns by their numbers."""
    made = np.zeros((rows, len(columns)), np.int64)
    for number, column in columns.items():
        made[:, number] = column
    return made


def table(rows: Sequence[Sequence[int]], width: int) -> Whole:
    return np.array(rows, np.int64).reshape(len(rows), width)


def whole(values: Iterable[int]) -> Whole:
    return np.array(list(values), np.int64)
