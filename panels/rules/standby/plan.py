"""What happens when stages are let go on the way, as charge runs low or load is too much?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from panels.rules.standby.simulate import STEP, Array, Supply, Trace, run


@dataclass(frozen=True, kw_only=True)
class Moment:
    """At `step` everything up to the shed order `stage` went off, and why."""

    step: int
    stage: int
    short: bool  # it could not be carried; else the charge had fallen to the mark


@dataclass(frozen=True, kw_only=True)
class Plan:
    """One outage as it goes: one lane, the stage of each step, and when stages were let go."""

    trace: Trace
    stage: tuple[int, ...]
    moments: tuple[Moment, ...]

    @property
    def lasts(self) -> float:
        return float(self.trace.lasts[0])


def follow(
    demand: Array, sun: Array, supply: Supply,
    *, stages: Sequence[int], shed: int, let_go_at: float | None,
) -> Plan:  # fmt: skip
    """From stage `shed` on; below `let_go_at` of the charge, or short, to the next stage."""
    step, lane, charge, fuel = 0, stages.index(shed), supply.charge, supply.fuel
    pieces: list[Trace] = []
    held: list[int] = []
    moments: list[Moment] = []
    while step < len(demand):
        one = run(demand[step:, lane : lane + 1], sun[step:], supply, charge=charge, fuel=fuel)
        last = lane == len(stages) - 1 or let_go_at is None
        steps, short = (len(one.hours), False) if last else _until(one, supply, let_go_at or 0.0)
        pieces.append(_first(one, steps))
        held += [stages[lane]] * steps
        step += steps
        if last or step >= len(demand):
            break
        if steps:
            charge, fuel = float(one.charge[steps - 1, 0]), float(one.fuel[steps - 1, 0])
        lane += 1
        moments.append(Moment(step=step, stage=stages[lane], short=short))
    return Plan(trace=_joined(pieces), stage=tuple(held), moments=tuple(moments))


def _until(one: Trace, supply: Supply, let_go_at: float) -> tuple[int, bool]:
    """How many steps this stage is held, and whether it ends for want of power."""
    dark = one.hours[:, 0] < STEP
    low = np.zeros_like(dark)
    if supply.storage.usable:
        low = one.charge[:, 0] <= let_go_at * supply.storage.usable
    first_dark = int(dark.argmax()) if dark.any() else len(dark)
    first_low = int(low.argmax()) + 1 if low.any() else len(dark)
    return min(first_dark, first_low), first_dark < first_low


def _first(trace: Trace, steps: int) -> Trace:
    return Trace(**{each.name: getattr(trace, each.name)[:steps] for each in fields(Trace)})


def _joined(pieces: Sequence[Trace]) -> Trace:
    return Trace(
        **{
            each.name: np.concatenate([getattr(piece, each.name) for piece in pieces])
            for each in fields(Trace)
        }
    )
