"""A problem as arrays: which crew days are there, who may do what on them, what is near what?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from jobs.planning.problem import Problem, Span, Visit
from jobs.planning.solve.allowance import able, on_time
from jobs.planning.solve.crew_days import (
    CrewDay,
    all_shifts,
    carried,
    crew_days,
    longest,
    members,
    teams,
)
from jobs.planning.solve.published import Told, told
from jobs.planning.solve.scales import scales, warmths
from jobs.planning.solve.state import (
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
    TOLD_DAY,
    TOLD_START,
    TOOLED,
    WEIGHT,
    WINDOWS,
    WINDOWS_END,
    Fixed,
    Whole,
)
from jobs.planning.solve.tables import in_order, offsets, table, whole
from jobs.planning.solve.visiting import (
    Link,
    closes,
    heads,
    linked,
    nodes,
    open_for,
    open_windows,
    ranks,
)

NEAR = 120  # neighbours noted per visit

Bits = NDArray[np.int8]


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


def nearest(places: Whole, travel: Whole) -> Whole:
    """For each node all others (at most NEAR) by the way there and back; itself comes first."""
    way = travel[np.ix_(places, places)] + travel[np.ix_(places, places)].T
    np.fill_diagonal(way, -1)
    return np.ascontiguousarray(np.argsort(way, axis=1, kind="stable")[:, :NEAR])


def ways(problem: Problem) -> Whole:
    """The travel matrix with one place more that is no way from anywhere, for runs without home."""
    known = np.array(problem.travel, np.int64).reshape(len(problem.travel), -1)
    return np.pad(known, ((0, 1), (0, 1)))
