"""What are the ways out where an addition does not fit: held down, smaller, a larger service?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from contractor.units import Q, Quantity
from panels.rules.dwelling import Dwelling, Kind, Load
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.fit.inputs import Proposal
from panels.rules.fit.ways import Outcome, Way
from panels.rules.quantities import AMPERE, apparent_power, show
from panels.rules.wire.lookup import dwelling_size
from panels.rules.wire.sizes import Metal
from panels.rules.working import Line, line

# What vehicle supply equipment is commonly set to or sold for, in amperes it draws (common
# practice, no source).
VEHICLE_STEPS = (80, 64, 48, 40, 32, 24, 16, 12)
LEAST_CHARGING = 6  # below it a vehicle does not charge (common practice, no source)
MOST_STEPS = 400  # whole amperes looked through for a smaller nameplate


def ways_out(way: Way, outcome: Outcome, proposal: Proposal, edition: Edition) -> Iterator[Line]:
    """The lines of a method: none needed, or each way out computed by that same method."""
    if outcome.fits:
        yield line(f"{way.key}_none", "Way out", "none needed")
        return
    yield _set_point(way, proposal, edition)
    yield _largest(way, proposal, edition)
    yield _service(way, outcome, proposal, edition)


def _set_point(way: Way, proposal: Proposal, edition: Edition) -> Line:
    """The largest whole ampere of an energy management set point that fits."""
    key, label, rule = f"{way.key}_set_point", "Hold it down at", edition.managed.allowed
    if way.held_at is None or not rule.value:
        told = f"{edition.title} does not let a set point stand for a load."
        if rule.value:
            told = "Not worked out for what the house itself uses."
        return line(key, label, "not by this method", rule, note=told)
    amperes = greatest(way, math.ceil(proposal.amperes(proposal.addition)) - 1)
    if amperes is None:
        return line(
            key,
            label,
            "no set point fits",
            rule,
            note=_short_without(way, proposal, "Not even one ampere of it is left."),
        )
    note = f"The most in whole amperes that fits; at {amperes + 1} A it does not. Counted in full."
    if proposal.addition.kind is Kind.VEHICLE and amperes < LEAST_CHARGING:
        note += f" A vehicle does not charge below {LEAST_CHARGING} A (common practice, no source)."
    if isinstance(proposal.premises, Dwelling) and proposal.premises.managed_at is not None:
        note += " Beside what the energy management holds down already."
    return line(key, label, Q(float(amperes), AMPERE), rule, note=note)


def greatest(way: Way, most: int) -> int | None:
    """The greatest set point from 1 to `most` A that fits; more is never less load, so halved."""
    low, high = 0, most
    while low < high:
        middle = (low + high + 1) // 2
        try:
            fits = way.held_at is not None and way.held_at(float(middle)).fits
        except (BadDescription, NotCovered):
            fits = False
        low, high = (middle, high) if fits else (low, middle - 1)
    return low or None


def _short_without(way: Way, proposal: Proposal, otherwise: str) -> str:
    left = way.with_load(None).left
    if left < 0:
        return f"Without it the rating is already short by {show(Q(-left, AMPERE))}."
    return otherwise


def _largest(way: Way, proposal: Proposal, edition: Edition) -> Line:
    """The largest nameplate below the proposed one that fits, of the sizes there are."""
    key, label = f"{way.key}_largest", "Largest nameplate that fits"
    for load in smaller(proposal.addition):
        try:
            fits = way.with_load(load).fits
        except (BadDescription, NotCovered):
            continue
        if fits:
            return line(
                key, label, load.current or Q(0.0, AMPERE), how=_how(load), note=_note(load)
            )
    none = _short_without(way, proposal, "Not even the smallest size looked at fits.")
    least = edition.vehicles.least
    if proposal.addition.kind is Kind.VEHICLE and least.value.magnitude:
        return line(key, label, "none", least, note=f"{none} Each counts {show(least.value)}.")
    return line(key, label, "none", note=none)


def smaller(load: Load) -> Iterator[Load]:
    """The same load in lesser sizes, the largest first: the common steps of vehicle supply
    equipment, else whole amperes."""
    volts, phases = load.volts, load.phases
    one = apparent_power(current=Q(1.0, AMPERE), volts=volts, phases=phases)
    own = math.inf if load.apparent is None else load.apparent.m_as("VA") / one.m_as("VA")
    steps = VEHICLE_STEPS if load.kind is Kind.VEHICLE else _whole(own)
    for amperes in steps:
        if amperes < own - 1e-9:
            current = Q(float(amperes), AMPERE)
            apparent = apparent_power(current=current, volts=volts, phases=phases)
            yield replace(load, apparent=apparent, current=current)


def _whole(own: float) -> range:
    most = min(math.ceil(own) - 1, MOST_STEPS)
    return range(most, 0, -1)


def _how(load: Load) -> str:
    apparent = load.apparent
    return "" if apparent is None else f"{show(apparent)} at {show(load.volts)}"


def _note(load: Load) -> str:
    if load.kind is Kind.VEHICLE:
        steps = ", ".join(str(step) for step in sorted(VEHICLE_STEPS))
        return f"Of the common sizes {steps} A (common practice, no source)."
    return "In whole amperes."


def _service(way: Way, outcome: Outcome, proposal: Proposal, edition: Edition) -> Line:
    """The smallest standard rating that carries it, with its conductors where a table has them."""
    rating, rules = outcome.rating, [edition.ratings.standard]
    note, dwelling = "", edition.wire.dwelling
    alone = isinstance(proposal.premises, Dwelling)
    covered = dwelling.least.value <= rating <= dwelling.most.value
    if alone and proposal.premises.service.supply.phases == 1 and covered:
        note = _conductors(rating, edition)
        rules.append(dwelling.factor)  # type: ignore[arg-type]
    label = "Smallest service that carries it"
    return line(f"{way.key}_service", label, rating, *rules, note=note)


def _conductors(rating: Quantity, edition: Edition) -> str:
    factor = edition.wire.dwelling.factor.value
    told = f"Its conductors need {show(rating * factor)}"
    sizes = [
        f"{metal.label} {size}"
        for metal in Metal
        if (size := dwelling_size(rating, metal, edition)) is not None
    ]
    return f"{told}, e.g. {' or '.join(sizes)}." if sizes else f"{told}."
