"""Does the dwelling have the circuits it must have, and a service that is large enough?

Judged once, with the panel the service feeds, over the breakers of all its panels.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from panels.rules.check import subjects
from panels.rules.check.facts import Breaker, PanelPlate, Record
from panels.rules.check.outcome import Rule, Verdict, cannot_tell, does_not_apply, fails, passes
from panels.rules.edition import Edition
from panels.rules.quantities import AMPERE
from panels.rules.rooms import Room

OUTLETS = "what each 20 A circuit serves and in which rooms"


def not_asked(record: Record) -> Verdict | None:
    """Why the rules for a dwelling say nothing here, if they do not."""
    if not record.at_service:
        return does_not_apply("Judged with the panel that the service feeds.")
    if record.occupancy == "other":
        return does_not_apply("Not a dwelling.")
    if record.occupancy == "apartments":
        return does_not_apply("Several dwellings: judged in each of them.")
    if not record.occupancy:
        return cannot_tell("what the service serves", place=subjects.entrance(record)[0].place)
    return None


def small_appliance(_plate: PanelPlate, record: Record, edition: Edition) -> Verdict:
    asked = edition.checks.required
    rooms = set(asked.small_appliance_rooms.value)
    return _count(
        record, edition, "small-appliance", asked.small_appliance.value,
        lambda one: one.serves == "receptacles" and set(one.areas) <= rooms and bool(one.areas),
    )  # fmt: skip


def laundry(_plate: PanelPlate, record: Record, edition: Edition) -> Verdict:
    return _count(record, edition, "laundry", 1, _only(Room.LAUNDRY))


def bathroom(_plate: PanelPlate, record: Record, edition: Edition) -> Verdict:
    """The exception: a circuit of its own for a single bathroom may serve all in that room."""
    single = record.home is not None and record.home.bathrooms == 1

    def serves(one: Breaker) -> bool:
        if set(one.areas) != {Room.BATHROOM}:
            return False
        return one.serves == "receptacles" or (single and one.serves == "both")

    found = _count(record, edition, "bathroom", 1, serves)
    shared = any(
        one.serves == "both" and set(one.areas) == {Room.BATHROOM}
        for one in _twenty_ampere(record, edition)
    )
    if found.outcome == "fail" and shared and (record.home is None or not record.home.bathrooms):
        return cannot_tell("how many bathrooms there are")
    return found


def garage(_plate: PanelPlate, record: Record, edition: Edition) -> Verdict:
    if stop := not_asked(record):
        return stop
    if record.home is None or record.home.has_garage is None:
        return cannot_tell("whether there is a garage with power")
    if not record.home.has_garage:
        return does_not_apply("No garage with power.")
    allowed = {Room.GARAGE, Room.OUTDOORS}
    return _count(
        record, edition, "garage", 1,
        lambda one: one.serves == "receptacles" and Room.GARAGE in one.areas
        and set(one.areas) <= allowed,
    )  # fmt: skip


def service(_plate: PanelPlate, record: Record, edition: Edition) -> Verdict:
    least = edition.ratings.one_family_least
    amps = least.value.m_as(AMPERE)
    if not record.at_service:
        return does_not_apply("Judged with the panel that the service feeds.")
    if record.occupancy in ("two_family", "apartments", "other"):
        return does_not_apply("Asked of one-family dwellings only.")
    if record.home and record.home.is_feeder:
        return does_not_apply("Fed by a feeder, not by its own service.")
    disconnect = (record.home and record.home.service_a) or record.panel.main_a
    if not disconnect:
        return cannot_tell("the rating of the service disconnect")
    if disconnect >= amps:
        return passes(f"The service disconnect is {disconnect} A.", least)
    if record.occupancy != "one_family":
        return cannot_tell("what the service serves", place=subjects.entrance(record)[0].place)
    return fails(f"The service disconnect is {disconnect} A; the least is {amps:g} A.", least)


def _only(room: Room) -> Callable[[Breaker], bool]:
    return lambda one: one.serves == "receptacles" and set(one.areas) == {room}


def _count(
    record: Record, edition: Edition, what: str, least: int, serves: Callable[[Breaker], bool]
) -> Verdict:
    """Enough circuits of that kind, or could one that is not described be one?"""
    if stop := not_asked(record):
        return stop
    amps = edition.checks.required.rating_a.value
    circuits = list(_twenty_ampere(record, edition))
    found = sorted((one for one in circuits if serves(one)), key=_label)
    count = sum(one.poles for one in found)
    if count >= least:
        return passes(f"{count} {what}: {'; '.join(map(_label, found))}.")
    undescribed = [one for one in circuits if not one.serves or not one.areas]
    if count + sum(one.poles for one in undescribed) >= least:
        first = min(undescribed, key=_label)
        return cannot_tell(OUTLETS, place=subjects.breaker_place(first))
    return fails(f"{count} {what} circuit(s) of {amps} A on record; at least {least} required.")


def _twenty_ampere(record: Record, edition: Edition) -> Iterator[Breaker]:
    """Breakers of 20 A circuits; a multiwire one of two poles is two circuits."""
    amps = edition.checks.required.rating_a.value
    for one in (*record.breakers, *record.elsewhere):
        single = one.poles == 1 or (one.poles == 2 and one.multiwire)
        if one.kind == "branch" and one.rating_a == amps and single:
            yield one


def _label(breaker: Breaker) -> str:
    return breaker.label


RULES: tuple[Rule[PanelPlate], ...] = (
    Rule(key="req1", id="REQ1", title="Two 20 A small-appliance circuits",
         about=subjects.home, judge=small_appliance),
    Rule(key="req2", id="REQ2", title="A 20 A laundry circuit with no other outlets",
         about=subjects.home, judge=laundry),
    Rule(key="req3", id="REQ3", title="A 20 A bathroom circuit with no other outlets",
         about=subjects.home, judge=bathroom),
    Rule(key="req4", id="REQ4", title="A 20 A garage circuit",
         about=subjects.home, judge=garage),
    Rule(key="req5", id="REQ5", title="A one-family service of 100 A or more",
         about=subjects.entrance, judge=service),
)  # fmt: skip
