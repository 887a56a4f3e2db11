"""Which first plan is the best, and in which order do priorities get their turn in it?"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from jobs.planning.solve.refusing import CannotPlan
from jobs.planning.solve.teams.draft import WEIGHTS, Draft
from jobs.planning.solve.teams.greedy import Greedy
from jobs.planning.solve.teams.model import Model
from jobs.planning.solve.teams.worth import best_left_out, fewest, worths

PATIENCE = (0.05, 0.2, 0.4, 0.8)  # tried on the published instances, each the best on some
MEAN_WORTH = 100


@dataclass(frozen=True)
class Beginning:
    """A first plan, and by what it was made. Of each visit: what waits for it in the turns taken
    (`turn`), the time of the fewest people who can do it (`room`) and how many these are, and
    what it is worth a day earlier, turn times room, a hundred on average."""

    draft: Draft
    turn: list[int]
    room: list[int]
    fewest: list[int | None]
    worth: list[float]


def beginnings(model: Model) -> list[Beginning]:
    """For each order of priorities the best of one greedy plan for each patience, the best of all
    first. Raises CannotPlan where none has all that has to be done."""
    found = list(_all(model))
    possible = [each for each in found if model.affordable(each.draft.left_out(model))]
    if not possible:
        raise CannotPlan(_what_is_left(model, [each.draft.left_out(model) for each in found]))
    possible.sort(key=lambda each: each.draft.completion(model))
    by_turns: dict[tuple[int, ...], Beginning] = {}
    for each in possible:
        by_turns.setdefault(tuple(each.turn), each)
    return list(by_turns.values())


def _all(model: Model) -> Iterator[Beginning]:
    least = fewest(model)
    room = [(n or 1) * task.visit.duration for n, task in zip(least, model.tasks, strict=True)]
    for turns in itertools.permutations(WEIGHTS):
        by_turn = worths(model, turns)
        worth = [float(w * r) for w, r in zip(by_turn, room, strict=True)]
        out = best_left_out(model, [round(each) for each in worth])
        order = sorted(range(len(room)), key=lambda i: (-by_turn[i], -room[i], i))
        scale = MEAN_WORTH * len(worth) / (sum(worth) or 1)
        for patience in PATIENCE:
            draft = Greedy(model, least, patience).fill(order, out)
            yield Beginning(draft, by_turn, room, least, [scale * each for each in worth])


def _what_is_left(model: Model, left_out: list[set[int]]) -> str:
    """Which visits that have to be done had no room in the plan that left out fewest of them."""
    must = min(
        ([i for i in sorted(out) if not model.tasks[i].visit.optional] for out in left_out),
        key=len,
    )
    names = [model.tasks[i].visit.name or model.tasks[i].visit.key for i in must]
    if not names:
        return "What is left out costs more together than may be."
    return f"No plan was found that has room for {', '.join(names)}."
