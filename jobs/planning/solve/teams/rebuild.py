"""What does a plan look like after some of its visits were taken out and put back by chance?

Ruin and recreate (Schrimpf et al. 2000, from memory): visits of a day or two, of some teams near
each other, or of anywhere, with all that come after them, are put back as a first plan is made.
"""

from __future__ import annotations

import random
from collections.abc import Set
from dataclasses import dataclass

from jobs.planning.solve.teams.beginning import Beginning
from jobs.planning.solve.teams.draft import ALL, Draft
from jobs.planning.solve.teams.greedy import Greedy
from jobs.planning.solve.teams.model import Model

PATIENT = 0.6  # the greatest patience tried; small ones are tried more often
IN_TURN = 0.9  # how often visits go back by worth; else by room alone


@dataclass
class Rebuild:
    """Makes one draft out of another; `first` says what each visit is worth and takes."""

    model: Model
    first: Beginning
    dice: random.Random

    def next(self, draft: Draft) -> Draft:
        gone = self.with_all_after(draft, self.chosen(draft) | self.latest(draft))
        kept = draft.copy()
        for visit in gone:
            del kept.place[visit], kept.start[visit]
        kept.thin_out(self.model)
        kept.tighten(self.model)
        back = gone | self.from_outside(draft)
        patience = 0.01 + PATIENT * self.dice.random() ** 3
        made = Greedy.going_on(self.model, self.first.fewest, patience, kept).fill(
            self.order(back), set(range(len(self.model.tasks))) - back - set(kept.place)
        )
        made.tighten(self.model)
        return made

    def chosen(self, draft: Draft) -> set[int]:
        """Visits of one or two days, of one to five teams within two days, or of anywhere."""
        teams = sorted(set(draft.place.values()))
        day, way = self.dice.choice(sorted({team[0] for team in teams})), self.dice.random()
        if way < 0.35:
            days = {day} if self.dice.random() < 0.6 else {day, day + 1}
            return {i for i, team in sorted(draft.place.items()) if team[0] in days}
        if way < 0.7:
            near = [team for team in teams if abs(team[0] - day) <= 2]
            some = set(self.dice.sample(near, min(len(near), self.dice.randint(1, 5))))
            return {i for i, team in draft.place.items() if team in some}
        count = min(len(draft.place), self.dice.randint(2, 12))
        return set(self.dice.sample(sorted(draft.place), count))

    def latest(self, draft: Draft) -> set[int]:
        """Half the time, some of those that end last in their priority or of all."""
        if self.dice.random() < 0.5:
            return set()
        ends, tasks = draft.ends(self.model), self.model.tasks
        return {
            i
            for i in sorted(draft.place)
            if draft.end(self.model, i) in (ends[ALL], ends.get(tasks[i].visit.priority))
            and self.dice.random() < 0.5
        }

    def with_all_after(self, draft: Draft, gone: set[int]) -> set[int]:
        found, waiting = set(gone), sorted(gone)
        while waiting:
            for lag in self.model.tasks[waiting.pop()].before:
                if lag.visit in draft.place and lag.visit not in found:
                    found.add(lag.visit)
                    waiting.append(lag.visit)
        return found

    def from_outside(self, draft: Draft) -> set[int]:
        """Now and then some of those left out, so that others may be."""
        if self.dice.random() > 0.3:
            return set()
        return {i for i in sorted(draft.left_out(self.model)) if self.dice.random() < 0.15}

    def order(self, visits: Set[int]) -> list[int]:
        in_turn = self.dice.random() < IN_TURN
        key = {
            i: (-self.first.turn[i] * in_turn, -self.first.room[i] * self.dice.uniform(0.6, 1.4))
            for i in sorted(visits)
        }
        return sorted(visits, key=key.__getitem__)
