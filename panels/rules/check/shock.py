"""Which circuits of a dwelling need arc-fault or ground-fault protection? (210.12, 210.8)

Arc-fault protection counts as the circuit's, ground-fault protection too: a receptacle that
protects itself and those after it is recorded as the circuit's protection.
"""

from __future__ import annotations

from typing import Any

from panels.rules.check import subjects
from panels.rules.check.facts import VOLTS, Breaker, Record
from panels.rules.check.outcome import Rule, Verdict, cannot_tell, does_not_apply, fails, passes
from panels.rules.edition import Edition
from panels.rules.rooms import Room
from panels.rules.sourced import Sourced

ARC, GROUND = "arc-fault", "ground-fault"
ENOUGH = {ARC: ("afci", "dual"), GROUND: ("gfci", "dual")}
LIGHTS = ("lights", "both")
MOST_TO_GROUND = 150
COOLING = ("cooling", "heat_pump")


def arc_fault(breaker: Breaker, record: Record, edition: Edition) -> Verdict:
    asked = edition.checks.arc_fault
    if stop := _not_asked(breaker, record):
        return stop
    if breaker.poles > 1 and not breaker.multiwire:
        return does_not_apply("Not a 120 V circuit.")
    if breaker.rating_a not in asked.ratings.value:
        return does_not_apply(f"{breaker.rating_a} A is not among the ratings asked.")
    return _judged(breaker, asked.rooms, ARC, any_outlet=True)


def ground_fault(breaker: Breaker, record: Record, edition: Edition) -> Verdict:
    asked = edition.checks.ground_fault
    if stop := _not_asked(breaker, record) or _out_of_reach(breaker, record, edition):
        return stop
    if breaker.serves in ("lights", "equipment"):
        return does_not_apply("No receptacles on it.")
    counters = () if asked.kitchen_all.value else (Room.KITCHEN,)
    return _judged(breaker, asked.rooms, GROUND, counters=counters)


def _out_of_reach(breaker: Breaker, record: Record, edition: Edition) -> Verdict | None:
    """Voltage or rating outside what the edition asks of receptacles."""
    asked = edition.checks.ground_fault
    if breaker.poles > 2 or record.volts(breaker) > asked.most_volts.value:
        return does_not_apply(f"Not a single-phase circuit of {asked.most_volts.value} V or less.")
    if asked.most_a.value is not None and breaker.rating_a > asked.most_a.value:
        return does_not_apply(f"Above {asked.most_a.value} A.")
    return None


def outdoor_outlets(breaker: Breaker, record: Record, edition: Edition) -> Verdict:
    """Outlets that are not receptacles; heating and cooling equipment from its own day on."""
    asked = edition.checks.ground_fault
    most = asked.outdoor_most_a
    if stop := _not_asked(breaker, record):
        return stop
    if most.value is not None and breaker.rating_a > most.value:
        return does_not_apply(f"Above {most.value} A.")
    if breaker.poles > 2 or breaker.serves in ("lights", "receptacles", "both"):
        return does_not_apply("No outdoor equipment on it.")
    from_day = asked.hvac_from.value
    cooling = any(draw.kind in COOLING for draw in breaker.draws)
    if from_day and cooling and record.on < from_day:
        return does_not_apply(f"Heating and cooling equipment, asked from {from_day:%b %-d, %Y}.")
    return _judged(breaker, asked.outdoor_rooms, GROUND, most)


def equipment(breaker: Breaker, record: Record, edition: Edition) -> Verdict:
    asked = edition.checks.ground_fault.equipment
    if stop := _not_asked(breaker, record):
        return stop
    said = " ".join([breaker.name, *(draw.name for draw in breaker.draws)]).casefold()
    named = next((word for word in asked.value if word in said), None)
    if named is None:
        return does_not_apply(f"No {' or '.join(asked.value)} on it.")
    return _protected(breaker, GROUND, f"It serves a {named}", asked)


def crawl_space(breaker: Breaker, record: Record, _edition: Edition) -> Verdict:
    if stop := _not_asked(breaker, record):
        return stop
    if record.volts(breaker) > 120:
        return does_not_apply("Above 120 V.")
    if breaker.areas and Room.CRAWL_SPACE not in breaker.areas:
        return does_not_apply("Not in a crawl space.")
    if breaker.serves and breaker.serves not in LIGHTS:
        return does_not_apply("No lights on it.")
    if not breaker.areas or not breaker.serves:
        return cannot_tell("what it serves and in which rooms")
    return _protected(breaker, GROUND, "It lights a crawl space")


def _not_asked(breaker: Breaker, record: Record) -> Verdict | None:
    if breaker.kind != "branch":
        return does_not_apply("Not a branch circuit.")
    if record.occupancy == "other":
        return does_not_apply("Asked here of dwellings only.")
    if VOLTS[record.panel.system][0] > MOST_TO_GROUND:
        return does_not_apply(f"More than {MOST_TO_GROUND} V to ground.")
    if not record.occupancy:
        return cannot_tell("what the service serves", place=subjects.entrance(record)[0].place)
    return None


def _judged(
    breaker: Breaker, rooms: Sourced[tuple[str, ...]], kind: str, *by: Sourced[Any],
    any_outlet: bool = False, counters: tuple[str, ...] = (),
) -> Verdict:  # fmt: skip
    """By the rooms it serves; in `counters` only receptacles that serve a counter count."""
    here = [room for room in breaker.areas if room in rooms.value]
    if breaker.areas and not here:
        return does_not_apply("None of the rooms it serves is listed; similar ones would count.")
    certain = [room for room in here if room not in counters or _at_counter(breaker)]
    missing = [] if breaker.serves or any_outlet else ["what it serves"]
    if not breaker.areas:
        missing.append("the rooms it serves")
    elif not certain:
        missing.append("whether its kitchen receptacles serve the counter")
    if not missing:
        return _protected(breaker, kind, f"It serves the {Room(certain[0]).label}", rooms, *by)
    if breaker.protection in ENOUGH[kind]:
        return passes(f"It has {kind} protection, whatever it serves.", rooms, *by)
    return cannot_tell(*missing)


def _at_counter(breaker: Breaker) -> bool:
    return "counter" in breaker.name.casefold()


def _protected(breaker: Breaker, kind: str, why: str, *by: Sourced[Any]) -> Verdict:
    if not breaker.protection:
        return cannot_tell("its protection")
    if breaker.protection in ENOUGH[kind]:
        return passes(f"{why}; it has {kind} protection.", *by)
    return fails(f"{why} and has no {kind} protection on record.", *by)


RULES: tuple[Rule[Breaker], ...] = (
    Rule(key="afci", id="AFCI", title="Arc-fault protection",
         about=subjects.breakers, judge=arc_fault),
    Rule(key="gfci", id="GFCI", title="Ground-fault protection of receptacles",
         about=subjects.breakers, judge=ground_fault),
    Rule(key="gfci_outdoor", id="GFCI", title="Ground-fault protection of outdoor outlets",
         about=subjects.breakers, judge=outdoor_outlets),
    Rule(key="gfci_equipment", id="GFCI", title="Ground-fault protection of named equipment",
         about=subjects.breakers, judge=equipment),
    Rule(key="gfci_crawl", id="GFCI", title="Ground-fault protection of crawl-space lights",
         about=subjects.breakers, judge=crawl_space),
)  # fmt: skip
