"""Which is the smallest conductor that passes, and why does each smaller one fail?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from contractor.units import Quantity
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.fields import Fields
from panels.rules.quantities import show
from panels.rules.service import next_rating
from panels.rules.wire.carried import Carried, carried
from panels.rules.wire.checks import Check, checks
from panels.rules.wire.conditions import Conditions, Loading, conditions_from, loading_from
from panels.rules.wire.drop import Drop, drop_percent
from panels.rules.wire.dwelling import MARKED, Share, objection, share_check
from panels.rules.wire.run import Run, phases_from, run_from
from panels.rules.wire.sizes import SIZES, Metal, Size, metal_of


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """A circuit that looks for its conductor. `limit_percent` (None: no limit) needs a `run`."""

    loading: Loading
    conditions: Conditions
    share: Share
    run: Run | None = None
    limit_percent: float | None = None
    ground: Metal = Metal.COPPER


def wanted_from(plain: Mapping[str, Any]) -> Wanted:
    """From the fields of `loading_from`, `conditions_from` and, where there is a ``length``,
    `run_from`; ``drop_limit`` (per cent), ``whole_dwelling`` and ``ground_metal``."""
    fields = Fields(plain=plain)
    loading, conditions = loading_from(fields), conditions_from(fields)
    if loading.device is None and not loading.current.magnitude:
        raise fields.fault("device", 'is missing. Write the device ("60 A") or a load.')
    limit, run = fields.number("drop_limit"), _run(fields)
    if limit is not None and limit >= 100:
        raise fields.fault("drop_limit", f"{limit:g} must be a percentage below 100.")
    if limit is not None and (run is None or run.volts is None):
        raise fields.fault("drop_limit", "needs the length and the volts too.")
    wanted = Wanted(
        loading=loading,
        conditions=conditions,
        share=Share(whole=fields.yes("whole_dwelling"), phases=phases_from(fields)),
        run=run,
        limit_percent=limit,
        ground=metal_of(fields.get("ground_metal") or "cu", field="ground_metal"),
    )
    fields.done()
    return wanted


def _run(fields: Fields) -> Run | None:
    """The run where a length is given; its other fields are taken either way."""
    length = fields.get("length") or "1 ft"
    run = run_from(Fields(plain={**fields.plain, "length": length}, taken=fields.taken))
    return run if fields.get("length") else None


def device_of(wanted: Wanted, edition: Edition) -> Quantity:
    """Its overcurrent device: the one stated, or the next standard rating.

    Raises `BadDescription` where the device stated is too small for the load.
    """
    loading = wanted.loading
    needs = loading.counted(edition)
    device = next_rating(needs, edition) if loading.device is None else loading.device
    if device < needs:
        raise BadDescription(
            "device",
            f"{show(device)} is too small: the load with its continuous part at 125 % is"
            f" {show(needs)}. Choose {show(next_rating(needs, edition))}.",
        )
    return device


@dataclass(frozen=True, kw_only=True)
class Tried:
    """A size and what came of it: its checks, or the sentence that rules it out."""

    size: Size
    found: Carried | None = None
    checks: tuple[Check, ...] = ()
    refusal: str = ""

    def passes(self, *, but: str = "") -> bool:
        """Whether every check passes, leaving out the one of that key."""
        return not self.refusal and all(check.passes for check in self.checks if check.key != but)

    @property
    def reasons(self) -> str:
        failing = (f"{check.label}: {check.words}" for check in self.checks if not check.passes)
        return self.refusal or "; ".join(failing)


@dataclass(frozen=True, kw_only=True)
class Chosen:
    """The smallest that passes with its device, the smaller ones that fail, and the smallest
    that would do if voltage drop were not asked for."""

    wanted: Wanted
    device: Quantity
    found: Carried
    checks: tuple[Check, ...]
    failing: tuple[Tried, ...]
    least: Size

    @property
    def size(self) -> Size:
        return self.found.size


def choose(wanted: Wanted, edition: Edition) -> Chosen:
    """Sizes from the smallest up to the first that passes.

    Raises `NotCovered` where none of the table passes, `BadDescription` as `device_of`.
    """
    failing: list[Tried] = []
    least: Size | None = None
    device = device_of(wanted, edition)
    for one in _each(wanted, device, edition):
        if least is None and one.passes(but=DROP):
            least = one.size
        if one.found and one.passes():
            return Chosen(
                wanted=wanted, device=device, found=one.found, checks=one.checks,
                failing=tuple(failing), least=least or one.size,
            )  # fmt: skip
        failing.append(one)
    told = failing[-1]
    raise NotCovered(
        f"No {wanted.conditions.metal.label} conductor up to {told.size} passes with"
        f" {wanted.conditions.sets} per phase. {told.size}: {told.reasons}. Try more sets, another"
        " metal or better conditions",
        cite=edition.wire.carrying.ampacity.cite,
    )


DROP = "drop_check"


def _each(wanted: Wanted, device: Quantity, edition: Edition) -> Iterator[Tried]:
    for size in SIZES:
        try:
            yield _tried(size, wanted, device, edition)
        except NotCovered as refusal:
            yield Tried(size=size, refusal=refusal.sentence)


def _tried(size: Size, wanted: Wanted, device: Quantity, edition: Edition) -> Tried:
    conditions, loading = wanted.conditions, replace(wanted.loading, device=device)
    dwelling = not objection(wanted.share, device, edition)
    if dwelling:
        conditions = replace(conditions, terminal=conditions.terminal or MARKED)
    found = carried(size, conditions, edition, device=device)
    asked = [share_check(found, device, edition)] if dwelling else checks(found, loading, edition)
    if wanted.run and wanted.limit_percent is not None:
        asked.append(
            _drop_check(drop_of(size, wanted, wanted.run, device), wanted.limit_percent, edition)
        )
    return Tried(size=size, found=found, checks=tuple(asked))


def drop_of(size: Size, wanted: Wanted, run: Run, device: Quantity) -> Drop:
    """The load along the run; where no load is stated, the device's rating."""
    loading, conditions = wanted.loading, wanted.conditions
    current = loading.current if loading.current.magnitude else device
    return Drop(current=current, run=run, size=size, metal=conditions.metal, sets=conditions.sets)


def _drop_check(drop: Drop, limit: float, edition: Edition) -> Check:
    try:
        share = drop_percent(drop, edition)
    except NotCovered as refusal:
        share, words = math.inf, refusal.sentence
    else:
        words = f"drops {share:.2f} %, the limit is {limit:g} %"
    return Check(
        key=DROP,
        label="Voltage drop",
        passes=share <= limit + 1e-9,
        words=words,
        sources=(edition.wire.falling.impedance,),
        note="The limit is the one chosen here; the code gives advice, not a rule.",
    )
