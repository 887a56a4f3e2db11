"""Which teams to make anew next, and which visits may come in?

Three ways, by chance: teams of one day with visits of later days that may come forward; teams of
two days near each other; teams that end last in some priority with teams of a day before.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from jobs.planning.solve.teams.draft import ALL, Draft, Team
from jobs.planning.solve.teams.model import Model
from jobs.planning.solve.teams.repair import Opened

LEFT_OUT = 6  # so many of the visits left out may come in
SPREAD = 0.3  # worth is told higher or lower by this share, so that plans equally good change


@dataclass
class Opening:
    """Opens about `size` visits of a draft at a time."""

    model: Model
    worth: Sequence[float]
    dice: random.Random

    def next(self, draft: Draft, size: int) -> Opened:
        work = {team: visits for team, visits in draft.work().items() if visits}
        days = sorted({team[0] for team in work})
        way = self.dice.choice((self.forward, self.two_days, self.critical, self.critical))
        teams, more = way(draft, work, days, size)
        if self.model.may_cost is None or self.model.may_cost:
            out = sorted(draft.left_out(self.model))
            more = [*more, *self.dice.sample(out, min(LEFT_OUT, len(out)))]
        worth = [round(w * self.dice.uniform(1 - SPREAD, 1 + SPREAD)) for w in self.worth]
        return Opened(frozenset(teams), more, worth)

    def some(self, work: dict[Team, list[int]], day: int, size: float) -> list[Team]:
        """Teams of a day by chance, one at least, with so many visits at most."""
        found, count = list[Team](), 0
        teams = sorted(team for team in work if team[0] == day)
        for team in self.dice.sample(teams, len(teams)):
            if not found or count + len(work[team]) <= size:
                found.append(team)
                count += len(work[team])
        return found

    def forward(
        self, draft: Draft, work: dict[Team, list[int]], days: Sequence[int], size: int
    ) -> tuple[list[Team], list[int]]:
        day = self.dice.choice(days)
        teams = self.some(work, day, 0.6 * size)
        room = size - sum(len(work[team]) for team in teams)
        later = sorted(i for i, team in draft.place.items() if team[0] > day)
        later.sort(key=lambda i: draft.place[i][0] - day + 4 * self.dice.random())
        return teams, later[: max(0, room)]

    def two_days(
        self, draft: Draft, work: dict[Team, list[int]], days: Sequence[int], size: int
    ) -> tuple[list[Team], list[int]]:
        n = self.dice.randrange(len(days))
        near = min(n + self.dice.choice((1, 1, 1, 2, 3)), len(days) - 1)
        teams = self.some(work, days[n], 0.5 * size)
        return [*teams, *self.some(work, days[near], 0.5 * size)], []

    def critical(
        self, draft: Draft, work: dict[Team, list[int]], days: Sequence[int], size: int
    ) -> tuple[list[Team], list[int]]:
        latest = draft.ends(self.model)
        priority = self.dice.choice([p for p, end in latest.items() if end])
        last = [
            i
            for i in sorted(draft.place)
            if priority in (ALL, self.model.tasks[i].visit.priority)
            and self.model.days[draft.place[i][0]].span.end >= latest[priority]
        ]
        self.dice.shuffle(last)
        last.sort(key=lambda i: -draft.end(self.model, i))
        teams = sorted({draft.place[i] for i in last[: self.dice.randint(1, 4)]})
        day = max(team[0] for team in teams)
        before = [d for d in days if d <= day][-self.dice.choice((2, 4, len(days))) :]
        room = size - sum(len(work[team]) for team in teams)
        return [*teams, *self.some(work, self.dice.choice(before), room)], []
