"""The plain rule of a coordinator with a board: promised visits first, each to the nearest crew.

Visits are taken by promised or due time, then by weight, a visit after those it waits for. Each is
put into the first day on which a crew has a gap for it, promised time first, with the crew that
drives least for it, and is not touched again. No overtime, no calls at the depot.
"""

from __future__ import annotations

import math
from bisect import bisect
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from jobs.planning.checking.breaks import forward
from jobs.planning.problem import Day, Person, Plan, Problem, Run, Span, Stop, Visit


@dataclass
class Board:
    """One crew's day: who is there and what stands on it."""

    problem: Problem
    day: Day
    crew: list[Person]
    stops: list[tuple[int, int, Visit]] = field(default_factory=list)

    @property
    def shift(self) -> Span:
        shifts = [person.shifts[self.day.index] for person in self.crew]
        return Span(start=max(s.start for s in shifts), end=min(s.end for s in shifts))

    @property
    def people(self) -> frozenset[str]:
        return frozenset(person.key for person in self.crew)

    @property
    def home(self) -> int:
        return min(self.crew, key=lambda each: each.key).home

    def able(self, visit: Visit) -> bool:
        carried = frozenset[str]().union(*(each.carries for each in self.crew))
        parts = Counter[str]()
        for person in self.crew:
            parts.update(person.parts)
        for _, _, other in self.stops:
            parts.subtract(other.needs_parts)
        return (
            len(self.crew) >= visit.heads
            and visit.needs_tools <= carried
            and all(parts[part] >= count for part, count in visit.needs_parts.items())
            and all(
                sum(each.level(need.domain) >= need.level for each in self.crew) >= need.count
                for need in visit.needs
            )
        )

    def gaps(self, visit: Visit, span: Span) -> Iterator[tuple[int, int]]:
        """Extra driving and start of every gap the visit fits into, starting in the span."""
        travel, shift, home = self.problem.travel, self.shift, self.home
        ends = [(shift.start, home), *((end, stop.place) for _, end, stop in self.stops)]
        starts = [*((start, stop.place) for start, _, stop in self.stops), (shift.end, home)]
        for (free, here), (until, there) in zip(ends, starts, strict=True):
            arrives = forward(free, travel[here][visit.place], self.day.breaks)
            start = self.no_break(max(arrives, span.start))
            over = forward(start, visit.duration, self.day.breaks)
            away = forward(over, travel[visit.place][there], self.day.breaks)
            if start <= span.end and away <= until:
                way = travel[here][visit.place] + travel[visit.place][there]
                yield way - travel[here][there], start

    def no_break(self, start: int) -> int:
        for pause in self.day.breaks:
            if pause.start <= start < pause.end:
                return pause.end
        return start

    def put(self, visit: Visit, start: int) -> None:
        end = forward(start, visit.duration, self.day.breaks)
        self.stops.insert(bisect([s for s, _, _ in self.stops], start), (start, end, visit))

    def run(self) -> Run:
        stops = [Stop(visit=visit.key, start=start) for start, _, visit in self.stops]
        return Run(day=self.day.index, people=self.people, stops=stops)


def boards(problem: Problem) -> dict[int, list[Board]]:
    """By day, the crews whose people present may go out together."""
    by_key = {person.key: person for person in problem.people}
    made: dict[int, list[Board]] = {}
    for day in problem.days:
        made[day.index] = []
        for crew in problem.crews:
            here = [by_key[key] for key in sorted(crew) if day.index in by_key[key].shifts]
            if here and supervised(problem, here):
                made[day.index].append(Board(problem, day, here))
    return made


def supervised(problem: Problem, crew: Sequence[Person]) -> bool:
    rule = problem.supervision
    if rule is None:
        return True
    licensed = sum(person.level(rule.domain) >= rule.level for person in crew)
    return len(crew) - licensed <= licensed * rule.each


def by_hand(problem: Problem) -> Plan:
    """The plan the rule makes."""
    made = boards(problem)
    done: dict[str, list[tuple[Board, int]]] = {}
    waiting = sorted(problem.visits, key=lambda v: (wanted(v), -v.weight, v.key))
    while waiting:
        ready = next((v for v in waiting if all(a.visit in done for a in v.after)), None)
        if ready is None:
            break
        waiting.remove(ready)
        if not ready.held:
            _place(problem, made, done, ready)
        # One that found no place is not done, so what waits for it is left out too.
    return Plan(runs=[board.run() for day in made.values() for board in day if board.stops])


def wanted(visit: Visit) -> float:
    if visit.promised:
        return visit.promised.start
    return math.inf if visit.due is None else visit.due


def _place(
    problem: Problem,
    made: dict[int, list[Board]],
    done: dict[str, list[tuple[Board, int]]],
    visit: Visit,
) -> None:
    allowed = _allowed(done, visit)
    for asked in [visit.promised, None] if visit.promised else [None]:
        for day in problem.days:
            for window in visit.windows or [day.span]:
                spans = [day.span, window, allowed, *([asked] if asked else [])]
                first, last = max(s.start for s in spans), min(s.end for s in spans)
                if first > last:
                    continue
                span = Span(start=first, end=last)
                if chosen := _choice(made[day.index], done, visit, span):
                    for board, start in chosen:
                        board.put(visit, start)
                    done[visit.key] = chosen
                    return


def _allowed(done: dict[str, list[tuple[Board, int]]], visit: Visit) -> Span:
    """Between the holds and the lags after what it waits for."""
    first, last = max(visit.earliest, visit.held_until), 10**9
    for after in visit.after:
        ended = max(
            end
            for board, _ in done[after.visit]
            for _, end, other in board.stops
            if other.key == after.visit
        )
        first = max(first, ended + after.least)
        last = last if after.most is None else min(last, ended + after.most)
    return Span(start=first, end=max(first, last))


def _choice(
    day: list[Board], done: dict[str, list[tuple[Board, int]]], visit: Visit, span: Span
) -> list[tuple[Board, int]] | None:
    """The crew that drives least for it; of several at once the first that can at one time."""
    same = {board.people for board, _ in done.get(visit.together or "", [])}
    able = [b for b in day if b.able(visit) and (not same or b.people in same)]
    if visit.crews == 1:
        found = [
            (extra, start, n)
            for n, board in enumerate(able)
            for extra, start in board.gaps(visit, span)
        ]
        return [(able[min(found)[2]], min(found)[1])] if found else None
    for start in range(span.start, span.end + 1, 15):
        at = Span(start=start, end=start)
        free = [board for board in able if any(board.gaps(visit, at))]
        if len(free) >= visit.crews:
            return [(board, start) for board in free[: visit.crews]]
    return None
