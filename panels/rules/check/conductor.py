"""What may a breaker's conductor carry, and is the breaker larger than that?"""

from __future__ import annotations

from panels.rules.check.facts import Breaker, Record
from panels.rules.check.outcome import Verdict, cannot_tell, does_not_apply, fails, passes
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription, NotCovered
from panels.rules.quantities import AMPERE
from panels.rules.wire import lookup
from panels.rules.wire.sizes import Metal, Size, size_of

COLUMNS = (60, 75, 90)
MOTORS = {"cooling", "heat_pump", "motor"}
UNTOLD = "the size and metal of its conductor"
ELSEWHERE = "Circuits of motors and air conditioners follow Articles 430 and 440."


def called(breaker: Breaker) -> str:
    """The conductor as people name it: 12 AWG copper."""
    size, metal = _wire(breaker)
    return f"{size.label} {metal.label}"


def small(breaker: Breaker, _record: Record, edition: Edition) -> Verdict:
    """240.4(D): the largest device on a small conductor."""
    if not breaker.in_use:
        return does_not_apply("A spare.")
    if not _told(breaker):
        return cannot_tell(UNTOLD)
    try:
        limit = lookup.small_limit(*_wire(breaker), edition)
    except BadDescription:
        return cannot_tell(UNTOLD)
    if limit is None:
        return does_not_apply(f"{called(breaker)} is no small conductor.")
    amps = limit.m_as(AMPERE)
    told = f"{called(breaker)} on {breaker.rating_a} A; the limit is {amps:g} A."
    if breaker.rating_a <= amps:
        return passes(told, edition.wire.carrying.small)
    return _motor(breaker) or fails(f"{told} {ELSEWHERE}", edition.wire.carrying.small)


def carries(breaker: Breaker, record: Record, edition: Edition) -> Verdict:
    """240.4: the conductor's ampacity, or the next standard device above it."""
    if not breaker.in_use:
        return does_not_apply("A spare.")
    if breaker.tap_rule:
        return does_not_apply("A tap: judged by its own rule.")
    if not _told(breaker):
        return cannot_tell(UNTOLD)
    try:
        possible = [_ampacity(breaker, column, edition) for column in terminals(breaker, edition)]
    except (NotCovered, BadDescription):
        return cannot_tell("a conductor that the ampacity tables have")
    enough = [_allowed(breaker, amps, edition) >= breaker.rating_a for amps in possible]
    told = f"{called(breaker)} carries {possible[0]:g} A; the breaker is {breaker.rating_a} A."
    by = edition.wire.carrying.ampacity
    if all(enough):
        return passes(told, by)
    if any(enough):
        return cannot_tell("the temperature marking of its terminals")
    return _motor(breaker) or _dwelling(breaker, record, possible[-1], edition) or fails(told, by)


def tap_ampacity(breaker: Breaker, edition: Edition) -> float | None:
    """What a tap's conductor carries at the least, A; None where it is not recorded."""
    if not _told(breaker):
        return None
    try:
        return _ampacity(breaker, terminals(breaker, edition)[0], edition)
    except (NotCovered, BadDescription):
        return None


def terminals(breaker: Breaker, edition: Edition) -> tuple[int, ...]:
    """The temperature columns its terminals may have: one where that follows from the record."""
    if breaker.terminal_c:
        return (breaker.terminal_c,)
    limits = edition.wire.carrying
    large = breaker.rating_a > limits.terminals_60_through.value.m_as(AMPERE)
    large = large or _wire(breaker)[0] > limits.terminals_60_through_size.value
    return (75,) if large else (60, 75)


def _ampacity(breaker: Breaker, column: int, edition: Edition) -> float:
    """Corrected from the insulation's column, and not above that of the terminals; all sets."""
    size, metal = _wire(breaker)
    insulation = max(breaker.insulation_c or column, column)
    amps = lookup.ampacity(size, metal, insulation, edition).m_as(AMPERE)
    amps *= lookup.bundling_factor(breaker.bundled or 1, edition)
    amps *= lookup.ambient_factor(breaker.ambient_c or 30.0, insulation, edition)
    capped = min(amps, lookup.ampacity(size, metal, column, edition).m_as(AMPERE))
    return float(capped * breaker.wire_sets)


def _allowed(breaker: Breaker, amps: float, edition: Edition) -> float:
    """The largest device on that ampacity, A."""
    most = edition.wire.carrying.next_size_through.value.m_as(AMPERE)
    receptacles = breaker.poles == 1 and breaker.serves in ("receptacles", "both")
    larger = [one for one in edition.ratings.standard.value if amps <= one <= most]
    return amps if receptacles or not larger else larger[0]


def _dwelling(breaker: Breaker, record: Record, amps: float, edition: Edition) -> Verdict | None:
    """The 83 % rule: only for a feeder with the entire load of one dwelling."""
    rule = edition.wire.dwelling
    inside = rule.least.value.m_as(AMPERE) <= breaker.rating_a <= rule.most.value.m_as(AMPERE)
    if breaker.kind != "feeder" or not inside or amps < rule.factor.value * breaker.rating_a:
        return None
    if record.home and record.home.is_feeder:
        return passes(f"{amps:g} A is 83 % of {breaker.rating_a} A or more.", rule.factor)
    return cannot_tell("whether this feeder carries the entire load of one dwelling")


def _motor(breaker: Breaker) -> Verdict | None:
    if any(draw.motor or draw.kind in MOTORS for draw in breaker.draws):
        return does_not_apply(ELSEWHERE)
    return None


def _told(breaker: Breaker) -> bool:
    return bool(breaker.wire_size and breaker.wire_material)


def _wire(breaker: Breaker) -> tuple[Size, Metal]:
    return size_of(breaker.wire_size), Metal(breaker.wire_material)
