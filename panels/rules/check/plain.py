"""How is a record to check read from a plain description?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from typing import Any

from panels.rules.check.facts import (
    Breaker,
    Connected,
    Draw,
    Dwelling,
    Entrance,
    PanelPlate,
    Record,
    Torque,
)
from panels.rules.fields import Fields
from panels.rules.layout import System
from panels.rules.rooms import Room

# What may be said, by field; the first is also what an absent one means.
WORDS: dict[str, tuple[str, ...]] = {
    "kind": ("branch", "feeder", "source", "spare"),
    "protection": ("", "none", "gfci", "afci", "dual"),
    "serves": ("", "receptacles", "lights", "both", "equipment"),
    "metal": ("", "cu", "al"),
    "tap_rule": ("", "10ft", "25ft", "outside", "other"),
    "position": ("", "opposite", "anywhere", "centre", "supply"),
    "occupancy": ("", "one_family", "two_family", "apartments", "other"),
    "system": tuple(system.value for system in System),
}
LATEST = dt.date.max  # without a day every rule that has a beginning has begun


def read(plain: Mapping[str, Any]) -> Record:
    """The record of a plain description. Raises `BadDescription` naming the field."""
    fields = Fields(plain=plain)
    record = Record(
        site="site",
        on=_day(fields, "on") or LATEST,
        panel=_panel(_table(fields, "panel", needed=True)),
        breakers=_breakers(fields, "breakers"),
        elsewhere=_breakers(fields, "breakers_elsewhere"),
        sources=tuple(map(_source, fields.tables("sources"))),
        home=_home(_table(fields, "home")) if fields.get("home") is not None else None,
        entrance=_entrance(_table(fields, "service"))
        if fields.get("service") is not None
        else None,
        torques=tuple(map(_torque, fields.tables("torques"))),
        calculated_a=_amount(fields, "calculated_load", "A", "120 A"),
        available_ka=_amount(fields, "available", "kA", "10 kA"),
    )
    fields.done()
    return record


def _panel(row: Fields) -> PanelPlate:
    rating = _whole(row, "rating", needed=True)
    panel = PanelPlate(
        id="panel",
        name=row.text("name", "Panel"),
        system=System(word(row, "system")),
        rating_a=rating or 0,
        bus_a=_whole(row, "bus") or rating or 0,
        main_a=_whole(row, "main"),
        interrupting_ka=_amount(row, "interrupting", "kA", "22 kA"),
        directory_at=row.text("directory_at"),
        supply_marked=known(row, "supply_marked"),
        fault_marked_ka=_amount(row, "fault_marked", "kA", "22 kA"),
        fault_marked_on=_day(row, "fault_marked_on"),
        transformer_kva=_amount(row, "transformer", "kVA", "75 kVA"),
        secondary_protected_a=_amount(row, "secondary_protected", "A", "200 A"),
        fed_from=row.text("fed_from"),
        feeder_a=_whole(row, "feeder"),
    )
    row.done()
    return panel


def _breakers(fields: Fields, name: str) -> tuple[Breaker, ...]:
    found = tuple(map(_breaker, fields.tables(name)))
    places = [one.place for one in found]
    twice = next((place for place in places if places.count(place) > 1), None)
    if twice:
        raise fields.fault(name, f"has two breakers at {twice!r}.")
    return found


def _breaker(row: Fields) -> Breaker:
    place = str(row.need("place", '"1,3"'))
    breaker = Breaker(
        id=place,
        place=place,
        rating_a=_whole(row, "rating", needed=True) or 0,
        kind=word(row, "kind"),
        name=row.text("name"),
        poles=row.count("poles", least=1, default=1),
        legs=_list(row, "legs", ("A", "B", "C")),
        protection=word(row, "protection"),
        serves=word(row, "serves"),
        areas=_list(row, "areas", tuple(room.value for room in Room)),
        wire_size=row.text("size"),
        wire_material=word(row, "metal"),
        wire_sets=row.count("sets", least=1, default=1),
        insulation_c=_celsius(row, "insulation_c"),
        terminal_c=_celsius(row, "terminal_c"),
        bundled=row.count("bundled", least=1, default=1),
        ambient_c=row.number("ambient_c"),
        length_ft=_amount(row, "length", "ft", "25 ft"),
        multiwire=row.text("multiwire"),
        tied=known(row, "tied"),
        grouped=known(row, "grouped"),
        full_rated=known(row, "full_rated"),
        interrupting_ka=_amount(row, "interrupting", "kA", "10 kA"),
        tap_rule=word(row, "tap_rule"),
        draws=tuple(map(_draw, row.tables("loads"))),
    )
    row.done()
    return breaker


def _draw(row: Fields) -> Draw:
    draw = Draw(
        name=row.text("name", "Load"),
        kind=row.text("kind", "other"),
        va=_amount(row, "load", "VA", "1500 VA"),
        volts=row.number("volts"),
        continuous=row.yes("continuous"),
        motor=row.yes("motor"),
    )
    row.done()
    return draw


def _source(row: Fields) -> Connected:
    name = row.text("name", "Source")
    source = Connected(
        id=f"{name} {row.path}",
        name=name,
        kind=row.text("kind", "solar"),
        rated_a=_amount(row, "rated", "A", "32 A"),
        breaker_a=_whole(row, "breaker"),
        position=word(row, "position"),
        labelled=known(row, "labelled"),
    )
    row.done()
    return source


def _home(row: Fields) -> Dwelling:
    home = Dwelling(
        bathrooms=row.count("bathrooms", default=0) or None,
        has_garage=known(row, "has_garage"),
        service_a=_whole(row, "service"),
        is_feeder=row.yes("is_feeder"),
    )
    row.done()
    return home


def _entrance(row: Fields) -> Entrance:
    entrance = Entrance(
        occupancy=word(row, "occupancy"),
        available_ka=_amount(row, "available", "kA", "10 kA"),
        disconnect_outdoors=known(row, "disconnect_outdoors"),
        disconnect_marked=known(row, "disconnect_marked"),
        disconnect_ka=_amount(row, "disconnect_interrupting", "kA", "22 kA"),
    )
    row.done()
    return entrance


def _torque(row: Fields) -> Torque:
    value = row.quantity("value", unit="lbf*in", example="50 lb-in")
    torque = Torque(
        terminal=row.text("terminal", "a terminal"),
        value=float(value.magnitude),
        marked_value=_amount(row, "marked", "lbf*in", "50 lb-in"),
        instrument=row.text("instrument"),
    )
    row.done()
    return torque


def _table(fields: Fields, name: str, *, needed: bool = False) -> Fields:
    given = fields.need(name, '{ rating = "200 A" }') if needed else fields.get(name)
    return Fields(plain=given, path=fields.at(name))


def _amount(fields: Fields, name: str, unit: str, example: str) -> float | None:
    found = fields.maybe(name, unit=unit, example=example)
    return None if found is None else float(found.magnitude)


def _whole(fields: Fields, name: str, *, needed: bool = False) -> int | None:
    """A rating in whole amperes."""
    if needed:
        fields.need(name, '"20 A"')
    amps = _amount(fields, name, "A", "20 A")
    if amps is not None and not (amps == int(amps) and 0 < amps <= 6000):
        raise fields.fault(name, f"{amps:g} A is not a rating: whole amperes, 1 to 6,000.")
    return None if amps is None else int(amps)


def word(fields: Fields, name: str) -> str:
    allowed = WORDS[name]
    given = fields.text(name, allowed[0])
    if given not in allowed:
        told = ", ".join(word for word in allowed if word)
        raise fields.fault(name, f"{given!r} is not known. Choose one of {told}.")
    return given


def known(fields: Fields, name: str) -> bool | None:
    """True or false; None where it is not said."""
    return None if fields.get(name) is None else fields.yes(name)


def _celsius(fields: Fields, name: str) -> int | None:
    given = fields.number(name)
    if given is not None and given not in (60, 75, 90):
        raise fields.fault(name, f"{given:g} is not a column: 60, 75 or 90.")
    return None if given is None else int(given)


def _list(fields: Fields, name: str, allowed: Iterable[str]) -> tuple[str, ...]:
    known = tuple(allowed)
    given = fields.get(name, [])
    if not isinstance(given, list | tuple) or any(one not in known for one in given):
        raise fields.fault(name, f"must be a list of {', '.join(known)}.")
    return tuple(given)


def _day(fields: Fields, name: str) -> dt.date | None:
    given = fields.get(name)
    if given is None or isinstance(given, dt.date):
        return given
    try:
        return dt.date.fromisoformat(given)
    except (TypeError, ValueError):
        raise fields.fault(name, f"{given!r} is not a day. Write e.g. 2026-11-25.") from None
