"""How does one plan get better, repair by repair?"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field

from jobs.planning.solve.teams.draft import Draft
from jobs.planning.solve.teams.model import Model
from jobs.planning.solve.teams.opening import Opening
from jobs.planning.solve.teams.repair import Repair

EFFORT = 0.5  # deterministic seconds for one repair
SMALLEST, FIRST, LARGEST = 10, 24, 60  # visits opened at a time
GROWS, SHRINKS = 1.02, 0.96  # after a repair proved the best there is, and after one that was not


@dataclass
class Chain:
    """One plan under repair. How much is opened follows from how much could be settled."""

    model: Model
    worth: list[float]
    draft: Draft
    seed: int
    size: float = FIRST
    rounds: int = 0
    completion: int = field(init=False)

    def __post_init__(self) -> None:
        self.dice = random.Random(self.seed)  # noqa: S311
        self.opening = Opening(self.model, self.worth, self.dice)
        self.completion = self.draft.completion(self.model)

    def go_on(self, rounds: int, left: Callable[[], float | None]) -> None:
        """So many repairs more, or until no seconds are left (None: they are not counted)."""
        for _ in range(rounds):
            seconds = left()
            if seconds is not None and seconds <= 0:
                return
            self._once(seconds)

    def _once(self, seconds: float | None) -> None:
        opened = self.opening.next(self.draft, int(self.size))
        repair = Repair(self.model, self.draft, opened)
        draft, settled = repair.solve(EFFORT, self.dice.randrange(2**30), seconds)
        self.size = max(SMALLEST, min(LARGEST, self.size * (GROWS if settled else SHRINKS)))
        completion = draft.completion(self.model)
        if completion <= self.completion:
            self.draft, self.completion = draft, completion
        self.rounds += 1

    def take_over(self, other: Chain) -> None:
        """Goes on from the plan of a chain that is ahead."""
        if other.completion < self.completion:
            self.draft, self.completion = other.draft.copy(), other.completion
