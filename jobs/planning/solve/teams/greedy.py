"""What does a first plan look like, made visit by visit without looking back?

Visits come in order of worth and then of room. Each goes to the first day that has room, there to
the team with the least waste: people standing by who are not needed, and people added who stood
idle before.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from jobs.planning.solve.teams.draft import Draft, Team
from jobs.planning.solve.teams.model import Counts, Model


@dataclass(frozen=True)
class Place:
    """Where a visit could go: a team (new or not), who joins it, the start, and the waste."""

    waste: tuple[float, float]
    team: Team
    joining: Sequence[int]
    start: int


@dataclass
class Greedy:
    """A first plan in the making. `fewest` as in `worth`; `patience`: how much waste, as a share
    of the visit's room, is taken before a new team is made."""

    model: Model
    fewest: Sequence[int | None]
    patience: float
    draft: Draft = field(default_factory=Draft)
    ends: dict[int, int] = field(default_factory=dict)
    free: dict[Team, int] = field(default_factory=dict)
    idle: dict[int, list[int]] = field(default_factory=dict)

    @classmethod
    def going_on(
        cls, model: Model, fewest: Sequence[int | None], patience: float, draft: Draft
    ) -> Greedy:
        """From a plan that has some visits already."""
        ends = {i: draft.end(model, i) for i in draft.place}
        free = {team: ends[visits[-1]] for team, visits in draft.work().items() if visits}
        made = cls(model, fewest, patience, draft, ends, free)
        for (n, _), members in draft.members.items():
            idle = made.nobody_yet(n)
            idle[:] = [person for person in idle if person not in members]
        return made

    def fill(self, order: Sequence[int], left_out: set[int]) -> Draft:
        """Plans all visits but some, each once those before it are; what finds no room and what
        comes after it stays out."""
        todo, out = [i for i in order if i not in left_out], set(left_out)
        while todo:
            visit = next(
                i for i in todo if all(lag.visit not in todo for lag in self.model.tasks[i].after)
            )
            todo.remove(visit)
            lost = any(lag.visit in out for lag in self.model.tasks[visit].after)
            place = None if lost else self.first(visit)
            if place is None:
                out.add(visit)
            else:
                self.take(visit, place)
        return self.draft

    def first(self, visit: int) -> Place | None:
        """The least wasteful place on the first day that has one."""
        task = self.model.tasks[visit]
        if self.fewest[visit] is None or task.visit.held:
            return None
        ready = self.model.ready(task, self.ends)
        for n, day in enumerate(self.model.days):
            if day.span.end >= ready + task.visit.duration:
                places = [
                    p for p in (*self.in_teams(visit, n, ready), self.new(visit, n, ready)) if p
                ]
                if places:
                    return min(places, key=lambda place: place.waste)
        return None

    def in_teams(self, visit: int, n: int, ready: int) -> list[Place]:
        """In each team of a day that has time for it."""
        task, found = self.model.tasks[visit], []
        span = self.model.days[n].span
        for team in [each for each in self.free if each[0] == n]:
            start = max(self.free[team], ready)
            if start + task.visit.duration > span.end:
                continue
            have = self.model.able[sorted(self.draft.members[team])].sum(axis=0)
            joining = self.cover(np.maximum(task.need - have, 0), n)
            if joining is not None:
                people = len(self.draft.members[team]) + len(joining)
                spare = (people - (self.fewest[visit] or 0)) * task.visit.duration
                waste = spare + len(joining) * (start - span.start)
                found.append(Place((waste, int((have - task.need).sum())), team, joining, start))
        return found

    def new(self, visit: int, n: int, ready: int) -> Place | None:
        """In a new team of a day."""
        task, span = self.model.tasks[visit], self.model.days[n].span
        start = max(span.start, ready)
        joining = self.cover(task.need, n)
        if joining is None or start + task.visit.duration > span.end:
            return None
        fewest = self.fewest[visit] or 0
        waste = (len(joining) - fewest) * (span.end - span.start)
        patience = self.patience * fewest * task.visit.duration
        number = 1 + max((number for day, number in self.free if day == n), default=-1)
        return Place((waste + patience, 0), (n, number), joining, start)

    def cover(self, need: Counts, n: int) -> list[int] | None:
        """People idle that day who fill a need, those who fill most first and of these the least
        skilled; None where there are not enough."""
        model, chosen = self.model, list[int]()
        idle = list(self.nobody_yet(n))
        while need.any():
            fills = (model.able[idle] & (need > 0)).sum(axis=1) if idle else np.zeros(1)
            if not fills.any():
                return None
            person = idle[int(np.argmax(fills - 0.02 * model.breadth[idle]))]
            idle.remove(person)
            chosen.append(person)
            need = np.maximum(need - model.able[person], 0)
        return chosen

    def nobody_yet(self, n: int) -> list[int]:
        """Who is there on a day and in no team."""
        return self.idle.setdefault(n, [int(p) for p in np.flatnonzero(self.model.here[n])])

    def take(self, visit: int, place: Place) -> None:
        members = self.draft.members.get(place.team, frozenset())
        self.draft.members[place.team] = members | set(place.joining)
        for person in place.joining:
            self.nobody_yet(place.team[0]).remove(person)
        self.draft.place[visit], self.draft.start[visit] = place.team, place.start
        self.ends[visit] = self.free[place.team] = self.draft.end(self.model, visit)
