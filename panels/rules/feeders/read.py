"""How is a site read from a plain description: entrance, panels, circuits, feeders, loads?"""

from __future__ import annotations

import enum
from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from panels.rules import description
from panels.rules.dwelling import Dwelling
from panels.rules.errors import BadDescription
from panels.rules.feeders.legs import line_volts, neutral_volts
from panels.rules.feeders.site import (
    Box,
    Breaker,
    Duty,
    Entrance,
    Occupancy,
    Run,
    Site,
    SiteLoad,
    Transformer,
    Use,
)
from panels.rules.fields import Fields
from panels.rules.layout import Frame, Half, LayoutError, Numbering, System, seat
from panels.rules.quantities import AMPERE, VA, read_quantity_any, show
from panels.rules.wire.sizes import metal_of, raceway_of, size_of

T = TypeVar("T")
E = TypeVar("E", bound=enum.Enum)
MOST_SPACES = 84
LEAST, MOST = 1e-3, 1e9


def site_from(fields: Fields) -> Site:
    """The site described by `service`, `panels`, `unplaced`, `dwelling` and `method`.

    Raises `BadDescription` naming the field. What is left out is not recorded, never guessed.
    """
    entrance = _entrance(_table(fields, "service"))
    boxes = tuple(_box(row, entrance.system) for row in fields.tables("panels"))
    system = entrance.system
    return fields.build(
        Site,
        entrance=entrance,
        boxes=boxes,
        unplaced=tuple(_load(row, system, 2) for row in fields.tables("unplaced")),
        dwelling=_dwelling(fields),
        method=fields.text("method", "optional") if fields.get("dwelling") else "",
    )


def _table(fields: Fields, name: str) -> Fields:
    return Fields(plain=fields.get(name) or {}, path=fields.at(name))


def _choice(fields: Fields, name: str, kind: type[E], default: str) -> E:
    given = fields.text(name, default)
    try:
        return kind(given)
    except ValueError:
        known = ", ".join(f'"{one.value}"' for one in kind if one.value)
        raise fields.fault(name, f"{given!r} is not known. Choose one of {known}.") from None


def _maybe(fields: Fields, name: str, read: Callable[..., T]) -> T | None:
    given = fields.get(name)
    return None if given in (None, "") else read(given, field=fields.at(name))


def _amount(fields: Fields, name: str, unit: str, example: str) -> float | None:
    if fields.get(name) in (None, ""):
        return None
    return _needed(fields, name, unit, example)


def _needed(fields: Fields, name: str, unit: str, example: str) -> float:
    """A number of that unit, nought or what can be met: what is beyond it is a slip."""
    number = float(fields.quantity(name, unit=unit, example=example).magnitude)
    if number and not LEAST <= number <= MOST:
        raise fields.fault(name, f'{number:g} {unit} cannot be meant. Write e.g. "{example}".')
    return number


def _name(fields: Fields, example: str) -> str:
    fields.need("name", example)
    return fields.text("name")


def _entrance(fields: Fields) -> Entrance:
    occupancy = fields.get("occupancy") and _choice(fields, "occupancy", Occupancy, "other")
    entrance = Entrance(
        system=_choice(fields, "system", System, System.SPLIT_240.value),
        occupancy=occupancy or None,
        available_a=_amount(fields, "available", "A", "22 kA"),
        available_to_neutral_a=_amount(fields, "available_to_neutral", "A", "30 kA"),
        x_over_r=fields.number("x_over_r"),
        stated=fields.text("stated"),
        transformer=_transformer(fields),
        run=_run(fields),
        disconnect_ka=_amount(fields, "disconnect_interrupting", "kA", "22 kA"),
    )
    fields.done()
    return entrance


def _transformer(fields: Fields) -> Transformer | None:
    if not fields.get("transformer"):
        return None
    row = _table(fields, "transformer")
    percent = row.number("percent_z")
    if percent is None or not 0.01 <= percent <= 30:
        raise row.fault("percent_z", "give its impedance in percent, e.g. percent_z = 2.0")
    made = Transformer(
        kva=_needed(row, "rating", "kVA", "75 kVA"),
        percent_z=percent,
        x_over_r=row.number("x_over_r"),
        secondary_protected_a=_amount(row, "secondary_protected", "A", "225 A"),
    )
    if made.kva <= 0:
        raise row.fault("rating", "must be above zero.")
    row.done()
    return made


def _run(fields: Fields) -> Run:
    """The conductors under `conductor`; without it nothing about them is recorded."""
    if not fields.get("conductor"):
        return Run()
    row = _table(fields, "conductor")
    run = Run(
        size=_maybe(row, "size", size_of),
        metal=_maybe(row, "metal", metal_of),
        raceway=_maybe(row, "raceway", raceway_of),
        length_ft=_amount(row, "length", "ft", "50 ft"),
        sets=row.count("sets", least=1, default=1),
        neutral=_maybe(row, "neutral", size_of),
        insulation_c=_celsius(row, "insulation_c"),
        terminal_c=_celsius(row, "terminal_c"),
        ambient_c=_ambient(row),
        bundled=row.count("bundled", least=1) if row.get("bundled") else None,
        c=_constant(row),
    )
    row.done()
    return run


def _constant(row: Fields) -> float | None:
    c = row.number("c")
    if c is not None and c < 1:
        raise row.fault("c", "must be at least 1 ampere-foot per volt, as examples print it.")
    return c


def _ambient(row: Fields) -> float | None:
    given = row.get("ambient_c")
    if given is None:
        return None
    if isinstance(given, bool) or not isinstance(given, int | float) or not -60 <= given <= 120:
        raise row.fault("ambient_c", "must be degrees Celsius, e.g. ambient_c = 40")
    return float(given)


def _celsius(row: Fields, name: str) -> int | None:
    given = row.get(name)
    if given is None:
        return None
    if isinstance(given, bool) or given not in (60, 75, 90):
        raise row.fault(name, f"{given!r} is not one of the columns 60, 75 and 90 °C.")
    return int(given)


def _box(row: Fields, system: System) -> Box:
    rating = _needed(row, "rating", "A", "200 A")
    own = _choice(row, "system", System, system.value)
    numbering = _choice(row, "numbering", Numbering, Numbering.ACROSS.value)
    spaces = row.count("spaces", least=1, default=MOST_SPACES)
    frame = Frame(spaces=spaces, numbering=numbering, system=own)
    bus = _amount(row, "bus", "A", "225 A")
    box = Box(
        name=_name(row, '"Main panel"'),
        system=own,
        rating_a=rating,
        bus_a=rating if bus is None else bus,
        main_a=_amount(row, "main", "A", "200 A"),
        interrupting_ka=_amount(row, "interrupting", "kA", "22 kA"),
        breakers=tuple(_breaker(circuit, frame) for circuit in row.tables("circuits")),
        through=row.text("through"),
        run=_run(row),
        transformer=_transformer(row),
    )
    row.done()
    return box


def _breaker(row: Fields, frame: Frame) -> Breaker:
    place, legs = _legs(row, frame)
    feeds = row.text("feeds")
    breaker = Breaker(
        place=place,
        name=row.text("name") or feeds,
        rating_a=_needed(row, "rating", "A", "20 A"),
        legs=legs,
        duty=_choice(row, "duty", Duty, (Duty.FEEDER if feeds else Duty.BRANCH).value),
        loads=tuple(_load(load, frame.system, len(legs)) for load in row.tables("loads")),
        use=_choice(row, "use", Use, ""),
        feeds=feeds,
        run=_run(row),
        interrupting_ka=_amount(row, "interrupting", "kA", "10 kA"),
        full_rated=row.yes("full_rated"),
    )
    row.done()
    return breaker


def _legs(row: Fields, frame: Frame) -> tuple[str, tuple[str, ...]]:
    """Where it sits and on which legs: by its space on the backplate, or by the legs named."""
    named = row.text("legs").upper()
    poles = row.count("poles", least=1, default=max(len(named), 1))
    half = _choice(row, "half", Half, Half.UPPER.value) if row.get("half") else None
    if row.get("space") is not None:
        try:
            found = seat(frame, space=row.count("space", least=1), poles=poles, half=half)
        except LayoutError as fault:
            raise row.fault("space", fault.sentence) from None
        return found.text, found.legs
    legs = named or "".join(frame.system.legs[:poles])
    known = len(set(legs)) == len(legs) == poles and set(legs) <= set(frame.system.legs)
    if not known or (poles == 1 and not named):
        raise row.fault("space", 'is missing. Write its space, e.g. space = 5, or legs = "A".')
    return "", tuple(legs)


def _load(row: Fields, system: System, poles: int) -> SiteLoad:
    volts = row.number("volts")
    leg = row.text("leg").upper()
    if leg and leg not in system.legs:
        raise row.fault("leg", f"{leg!r} is not one of the legs {', '.join(system.legs)}.")
    to_neutral = poles == 1 or bool(leg) or _is_to_neutral(volts, system)
    load = SiteLoad(
        name=_name(row, '"Range"'),
        va=_load_va(row, volts or (neutral_volts if to_neutral else line_volts)(system)),
        continuous=row.yes("continuous"),
        to_neutral=to_neutral,
        leg=leg,
        one_of=row.text("one_of"),
    )
    row.done()
    return load


def _is_to_neutral(volts: float | None, system: System) -> bool:
    """Which of the two voltages the nameplate's is nearer to."""
    return volts is not None and abs(volts - neutral_volts(system)) < abs(
        volts - line_volts(system)
    )


def _load_va(row: Fields, volts: float) -> float | None:
    """All of a load in VA; amperes are taken at the voltage of its nameplate."""
    count = row.count("count", least=1, default=1)
    given = row.get("load")
    if given in (None, ""):
        return None
    read = read_quantity_any(given, field=row.at("load"), example="1500 VA")
    if read.is_compatible_with(VA):
        return float(read.m_as(VA)) * count
    if read.is_compatible_with(AMPERE):
        return float(read.m_as(AMPERE)) * volts * count
    raise row.fault("load", f"{show(read)} is not a load. Write VA, kVA or A.")


def _dwelling(fields: Fields) -> Dwelling | None:
    given = fields.get("dwelling")
    if not given:
        return None
    try:
        premises = description.from_plain(_mapping(given))
    except BadDescription as fault:
        raise fields.fault(f"dwelling.{fault.field}", fault.fields[fault.field]) from None
    if not isinstance(premises, Dwelling):
        raise fields.fault("dwelling", "must be one dwelling, not a building of several.")
    return premises


def _mapping(given: Any) -> Mapping[str, Any]:
    return given if isinstance(given, Mapping) else {}
