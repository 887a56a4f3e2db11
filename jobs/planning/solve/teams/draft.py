"""Who is in which team on which day, and what does each team do when, while a plan is made?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from jobs.planning.problem import Plan, Run, Stop
from jobs.planning.solve.teams.model import Model

Team = tuple[int, int]  # the day's place in the model's days, and the team's number on it
WEIGHTS: Mapping[int, int] = {1: 28, 2: 14, 3: 4}  # of a priority's end; the end of all counts 1
ALL = 0  # stands for all priorities together where ends are told by priority


@dataclass
class Draft:
    """`place` and `start` of each planned visit; `members` of each team, by number of person."""

    place: dict[int, Team] = field(default_factory=dict)
    start: dict[int, int] = field(default_factory=dict)
    members: dict[Team, frozenset[int]] = field(default_factory=dict)

    def copy(self) -> Draft:
        return Draft(dict(self.place), dict(self.start), dict(self.members))

    def work(self) -> dict[Team, list[int]]:
        """The visits of each team, first things first."""
        found: dict[Team, list[int]] = {team: [] for team in self.members}
        for visit in sorted(self.place, key=lambda i: (self.start[i], i)):
            found[self.place[visit]].append(visit)
        return found

    def end(self, model: Model, visit: int) -> int:
        return self.start[visit] + model.tasks[visit].visit.duration

    def ends(self, model: Model, but: frozenset[int] = frozenset()) -> dict[int, int]:
        """The latest end of each priority and of all (0 where there is none), without some."""
        latest = {ALL: 0, **dict.fromkeys(WEIGHTS, 0)}
        for visit in self.place:
            if visit not in but:
                end = self.end(model, visit)
                latest[ALL] = max(latest[ALL], end)
                priority = model.tasks[visit].visit.priority
                if priority in WEIGHTS:
                    latest[priority] = max(latest[priority], end)
        return latest

    def completion(self, model: Model) -> int:
        """28 C1 + 14 C2 + 4 C3 + C4 (ROADEF 2007 challenge)."""
        latest = self.ends(model)
        return latest[ALL] + sum(weight * latest[p] for p, weight in WEIGHTS.items())

    def left_out(self, model: Model) -> set[int]:
        return set(range(len(model.tasks))) - set(self.place)

    def tighten(self, model: Model) -> None:
        """Starts everything as early as the same order in each team allows."""
        free = {team: model.days[team[0]].span.start for team in self.members}
        ends: dict[int, int] = {}
        for visit in sorted(self.place, key=lambda i: (self.start[i], i)):
            team = self.place[visit]
            self.start[visit] = max(free[team], model.ready(model.tasks[visit], ends))
            free[team] = ends[visit] = self.end(model, visit)

    def thin_out(self, model: Model) -> None:
        """Sends home whom a team can do without, those with most skills first, and idle teams."""
        for team, visits in self.work().items():
            if not visits:
                del self.members[team]
                continue
            need = np.max([model.tasks[i].need for i in visits], axis=0)
            crew = sorted(self.members[team], key=lambda p: (-model.breadth[p], p))
            have = model.able[crew].sum(axis=0)
            for person in list(crew):
                if (have - model.able[person] >= need).all():
                    have = have - model.able[person]
                    crew.remove(person)
            self.members[team] = frozenset(crew)

    def plan(self, model: Model) -> Plan:
        """A run for each team that has something to do."""
        return Plan(
            runs=[
                Run(
                    day=model.days[team[0]].index,
                    people=frozenset(model.people[p] for p in self.members[team]),
                    stops=[
                        Stop(visit=model.tasks[i].visit.key, start=self.start[i]) for i in visits
                    ],
                )
                for team, visits in sorted(self.work().items())
                if visits
            ]
        )
