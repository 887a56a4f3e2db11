"""How does one plan get better, round by round?

A round is some rebuilding by chance, annealed, and one repair of the best plan so far.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, field

from jobs.planning.solve.teams.beginning import Beginning
from jobs.planning.solve.teams.draft import WEIGHTS, Draft
from jobs.planning.solve.teams.model import Model
from jobs.planning.solve.teams.opening import Opening
from jobs.planning.solve.teams.rebuild import Rebuild
from jobs.planning.solve.teams.repair import Repair

REBUILDS = 200  # in a round
WARMEST = 300.0  # units of completion by which a worse plan is still taken often, at first
EFFORT = 0.5  # deterministic seconds for one repair
SMALLEST, FIRST, LARGEST = 10, 24, 60  # visits opened at a time
GROWS, SHRINKS = 1.02, 0.96  # after a repair proved the best there is, and after one that was not


@dataclass
class Chain:
    """`best` so far and `now`, the plan being rebuilt. How much a repair opens follows from how
    much could be settled."""

    model: Model
    first: Beginning
    seed: int
    size: float = FIRST
    rounds: int = 0
    best: Draft = field(init=False)
    now: Draft = field(init=False)
    completion: int = field(init=False)

    def __post_init__(self) -> None:
        self.dice = random.Random(self.seed)  # noqa: S311
        self.opening = Opening(self.model, self.first.worth, self.dice)
        self.rebuild = Rebuild(self.model, self.first, self.dice)
        self.best = self.now = self.first.draft
        self.completion = self.best.completion(self.model)

    def go_on(self, heat: float, rounds: int, left: Callable[[], float | None]) -> None:
        """So many rounds more, or until no seconds are left (None: they are not counted)."""
        for _ in range(rounds):
            self._anneal(WARMEST * heat, left)
            seconds = left()
            if seconds is not None and seconds <= 0:
                return
            self._repair(seconds)
            self.rounds += 1

    def _anneal(self, warmth: float, left: Callable[[], float | None]) -> None:
        """Rebuilds, and goes on from what is better or not much worse."""
        price = self._price(self.now)
        for _ in range(REBUILDS):
            seconds = left()
            if seconds is not None and seconds <= 0:
                return
            draft = self.rebuild.next(self.now)
            if not self.model.affordable(draft.left_out(self.model)):
                continue
            new = self._price(draft)
            if new <= price - warmth * math.log(1 - self.dice.random()):
                self.now, price = draft, new
                self._keep(draft)

    def _price(self, draft: Draft) -> float:
        """The completion, and the ends of all visits by worth on the same scale: many plans have
        one completion and some of them are nearer to a better one."""
        worth = self.first.worth
        ends = sum(worth[i] * draft.end(self.model, i) for i in draft.place)
        scale = (1 + sum(WEIGHTS.values())) / (sum(worth) or 1)
        return draft.completion(self.model) + scale * ends

    def _repair(self, seconds: float | None) -> None:
        if not self.best.place:
            return
        opened = self.opening.next(self.best, int(self.size))
        repair = Repair(self.model, self.best, opened)
        draft, settled = repair.solve(EFFORT, self.dice.randrange(2**30), seconds)
        self.size = max(SMALLEST, min(LARGEST, self.size * (GROWS if settled else SHRINKS)))
        if draft.completion(self.model) == self.completion:
            self.best = draft
        elif self._keep(draft):
            self.now = draft

    def _keep(self, draft: Draft) -> bool:
        """As the best so far, if it is better."""
        completion = draft.completion(self.model)
        if completion >= self.completion:
            return False
        self.best, self.completion = draft, completion
        return True

    def take_over(self, other: Chain) -> None:
        """Goes on from the best plan of a chain that is ahead."""
        if self._keep(other.best):
            self.now = other.best
