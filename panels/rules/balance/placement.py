"""Is there a place for every body, and by how few moves? Asked of the CP-SAT solver.

Bodies of one space are alike to the spaces of a leg, so the model chooses only their leg; which
space follows afterwards. That leaves the solver next to no symmetry.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from panels.rules.balance.bodies import Body
from panels.rules.balance.items import Stand, stand_of
from panels.rules.balance.spaces import fill
from panels.rules.balance.spots import Spot
from panels.rules.layout import Frame

SEED = 1
Var = Any  # a variable or a sum of the solver's


class Undecided(Exception):
    """Neither an arrangement nor a proof that there is none, in the time there is."""


@dataclass(frozen=True, kw_only=True)
class Limits:
    """What an arrangement has to keep: its imbalance in sixths of a VA, and its moves."""

    least_spread: int = 0
    most_spread: int | None = None
    least_moves: int = 0
    most_moves: int | None = None


@dataclass(frozen=True, kw_only=True)
class Placed:
    """A spot for each body, and what the solver proved of what it was to make small."""

    spots: tuple[Spot, ...]
    bound: int

    @property
    def moves(self) -> int:
        return sum(spot.moves for spot in self.spots)

    @property
    def spread(self) -> int:
        legs = [sum(leg) for leg in zip(*(spot.load for spot in self.spots), strict=True)]
        return max(legs, default=0) - min(legs, default=0)


class Model:
    """The panel for the solver: what stands where, and that a space holds one body."""

    def __init__(self, frame: Frame, bodies: Sequence[Body], groups: frozenset[str]) -> None:
        from ortools.sat.python import cp_model  # takes a moment to load: only when asked

        self.cp, self.model = cp_model, cp_model.CpModel()
        self.frame, self.bodies, self.groups = frame, bodies, groups
        self.covers: dict[int, list[Var]] = {space: [] for space in range(1, frame.spaces + 1)}
        self.movers: list[tuple[frozenset[int], Var]] = []
        self.costs: list[Var] = []
        self.stands: list[list[tuple[Stand, Var]]] = []
        self.spots: list[dict[Spot, Var]] = []  # of a body of one space: only where it stands now
        for body in bodies:
            if body.is_small and len(body.spots) > 1:
                self._small(body)
            else:
                self._large(body)
        self._room()
        self._apart()

    def _large(self, body: Body) -> None:
        spots = {spot: self.model.new_bool_var("") for spot in body.spots}
        self.model.add_exactly_one(spots.values())
        for spot, var in spots.items():
            for space in spot.spaces:
                self.covers[space].append(var)
        self.costs.append(sum(spot.moves * var for spot, var in spots.items()))
        self.stands.append([(stand_of(self.frame, s, self.groups), v) for s, v in spots.items()])
        self.spots.append(spots)

    def _small(self, body: Body) -> None:
        stay = self.model.new_bool_var("")
        chosen: dict[Stand, list[Spot]] = {}
        for spot in body.spots:
            chosen.setdefault(stand_of(self.frame, spot, self.groups), []).append(spot)
        vars_ = {stand: self.model.new_bool_var("") for stand in chosen}
        self.model.add_exactly_one(vars_.values())
        for stand, spots in chosen.items():
            here = body.stay in spots
            if here:
                self.model.add_implication(stay, vars_[stand])
            spaces = frozenset(space for spot in spots for space in spot.spaces)
            self.movers.append((spaces, vars_[stand] - stay if here else vars_[stand]))
        if body.stay is None:
            self.model.add(stay == 0)
        else:
            self.covers[next(iter(body.stay.spaces))].append(stay)
        self.costs.append(1 - stay)
        self.stands.append(list(vars_.items()))
        self.spots.append({body.stay: stay} if body.stay else {})

    def _room(self) -> None:
        """The spaces left hold those bodies of one space that move; of the sets of spaces that
        serve them one always holds the other, so counting is enough."""
        free = {space: self.model.new_bool_var("") for space in self.covers}
        for space, covers in self.covers.items():
            self.model.add_at_most_one([*covers, free[space]])
        for spaces in {spaces for spaces, _ in self.movers}:
            inside = [moved for theirs, moved in self.movers if theirs <= spaces]
            self.model.add(sum(inside) <= sum(free[space] for space in spaces))

    def _apart(self) -> None:
        poles: dict[Any, list[Var]] = {}
        for stands in self.stands:
            for stand, var in stands:
                for pole in stand.poles:
                    poles.setdefault(pole, []).append(var)
        for vars_ in poles.values():
            self.model.add(sum(vars_) <= 1)

    def spread(self) -> Var:
        legs = [
            sum(stand.load[leg] * var for stands in self.stands for stand, var in stands)
            for leg in range(len(self.frame.system.legs))
        ]
        most = sum(max((sum(s.load) for s, _ in stands), default=0) for stands in self.stands)
        high, low = (self.model.new_int_var(0, most, "") for _ in range(2))
        for leg in legs:
            self.model.add(high >= leg)
            self.model.add(low <= leg)
        return high - low


def place(
    frame: Frame, bodies: Sequence[Body], groups: frozenset[str], *, limits: Limits,
    by_moves: bool, fixed: Mapping[int, Stand] | None = None, hint: Placed | None = None,
    effort: float,
) -> Placed | None:  # fmt: skip
    """The arrangement with the fewest moves (or, not `by_moves`, the least imbalance) within the
    limits; with `fixed` bodies on their legs. `effort` is in the solver's deterministic seconds.
    None where there is none. Raises `Undecided` when the effort was not enough to tell.
    """
    asked = Model(frame, bodies, groups)
    spread, moves = asked.spread(), sum(asked.costs)
    model = asked.model
    model.add(moves >= limits.least_moves)
    model.add(spread >= limits.least_spread)
    if limits.most_moves is not None:
        model.add(moves <= limits.most_moves)
    if limits.most_spread is not None:
        model.add(spread <= limits.most_spread)
    for index, stand in (fixed or {}).items():
        model.add_bool_or([var for each, var in asked.stands[index] if each == stand])
    _hint(asked, hint)
    model.minimize(moves if by_moves else spread)
    solver = asked.cp.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = SEED
    solver.parameters.max_deterministic_time = effort
    status = solver.solve(model)
    if status == asked.cp.INFEASIBLE:
        return None
    if status not in (asked.cp.OPTIMAL, asked.cp.FEASIBLE):
        raise Undecided
    return Placed(spots=_read(asked, solver), bound=round(solver.best_objective_bound))


def _hint(asked: Model, hint: Placed | None) -> None:
    for index, spot in enumerate(hint.spots if hint else ()):
        stand = stand_of(asked.frame, spot, asked.groups)
        for each, var in asked.stands[index]:
            if len(asked.stands[index]) != len(asked.spots[index]):
                asked.model.add_hint(var, each == stand)
        for there, var in asked.spots[index].items():
            asked.model.add_hint(var, there == spot)


def _read(asked: Model, solver: Any) -> tuple[Spot, ...]:
    """The spot of each body; those of one space that move fill the spaces left."""
    found: dict[int, Spot] = {}
    moving: dict[int, list[Spot]] = {}
    for index, body in enumerate(asked.bodies):
        there = next((s for s, var in asked.spots[index].items() if solver.value(var)), None)
        if there is not None:
            found[index] = there
            continue
        stand = next(stand for stand, var in asked.stands[index] if solver.value(var))
        moving[index] = [
            spot for spot in body.spots if stand_of(asked.frame, spot, asked.groups) == stand
        ]
    found |= fill(moving, asked.bodies, taken={s for spot in found.values() for s in spot.spaces})
    return tuple(found[index] for index in range(len(asked.bodies)))
