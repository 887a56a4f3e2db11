"""What goes onto the worksheet of a load calculation, and the paper made from it?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from django.utils.translation import get_language
from django.utils.translation import gettext as _

from contractor.paper import render
from panels.directory import words
from panels.directory.content import Issuer
from panels.rules.dwelling import Kind
from panels.rules.layout import System
from panels.rules.quantities import show
from panels.rules.questions import LOADS
from panels.rules.shop.premises import Occupancy
from panels.rules.working import Line, Result
from panels.worksheet.given import given

TEMPLATE = Path(__file__).resolve().parent / "worksheet.typ"
TOTALS = ("load", "current", "rating")


@dataclass(frozen=True, kw_only=True)
class Worksheet:
    """A calculation with all that has to stand beside it."""

    site: str
    purpose: str
    jurisdiction: str
    edition_by: str
    on: str
    inputs: Mapping[str, Any]
    result: Result
    issuer: Issuer
    made_by: str
    made_on: str
    software: str


def worksheet(sheet: Worksheet, *, made_at: dt.datetime) -> bytes:
    """The worksheet as PDF."""
    return render.pdf(TEMPLATE, _data(sheet), made_at=made_at)


def _data(sheet: Worksheet) -> dict[str, Any]:
    result = sheet.result
    return {
        "lang": (get_language() or "en").split("-")[0],
        "title": f"{_kind(result)}, {sheet.site}",
        "words": {**_words(), "kind": _kind(result)},
        "method": result.method_title,
        "site": sheet.site,
        "totals": _totals(result),
        "facts": _facts(sheet),
        "sections": [
            {"title": section.title, "lines": [_line(line) for line in section.lines]}
            for section in result.sections
        ],
        "inputs": list(inputs(sheet.inputs)),
        "confirm": result.confirm,
        "amendments": result.amendments,
        "cautions": result.cautions,
        "jurisdiction": sheet.jurisdiction,
        "edition": result.edition_title,
        "edition_by": sheet.edition_by,
        "made_on": sheet.made_on,
        "made_by": sheet.made_by,
        "software": sheet.software,
        "firm": words.firm(sheet.issuer),
    }


def _kind(result: Result) -> str:
    return _("Load calculation") if result.method in LOADS else _("Calculation")


def _totals(result: Result) -> list[tuple[str, str]]:
    """At most three figures for the head: of a load always the same, else the first totals."""
    known = {line.key: line for line in result.lines}
    if result.method in LOADS:
        found = [known[key] for key in TOTALS if key in known]
    else:
        found = [line for line in known.values() if line.total][:3]
    return [(line.label, line.shown) for line in found]


def _facts(sheet: Worksheet) -> list[tuple[str, str]]:
    facts = [
        (_("Jurisdiction"), sheet.jurisdiction),
        (_("Edition"), sheet.result.edition_title),
        (_("In force on"), sheet.on),
        (_("For"), sheet.purpose),
        (_("Values"), sheet.result.basis),
    ]
    return [(name, value) for name, value in facts if value]


def _line(line: Line) -> dict[str, Any]:
    kept = ("label", "how", "cite", "note", "confirm", "total")
    return {**{name: getattr(line, name) for name in kept}, "shown": line.shown}


def inputs(plain: Mapping[str, Any]) -> Iterator[tuple[str, str, str, str]]:
    """What went in, one line each: what, nameplate or value, volts, and what is said of it."""
    if "premises" in plain and "addition" in plain:
        yield _load({**plain["addition"], "new": True})
        yield from inputs(plain["premises"])
        others = {name: plain[name] for name in plain if name not in ("premises", "addition")}
        yield from given(others)
    elif "floor_area" in plain:
        yield from _shop(plain) if "occupancy" in plain else _dwelling(plain)
    else:
        yield from given(plain)


def _shop(plain: Mapping[str, Any]) -> Iterator[tuple[str, str, str, str]]:
    kind, service = Occupancy(plain["occupancy"]).label, plain.get("service", {})
    yield _("Floor area"), _amount(plain["floor_area"]), "", kind
    told = {
        "lighting": _("Lighting connected"),
        "receptacles": _("Receptacles"),
        "signs": _("Sign outlets"),
        "show_window": _("Show windows"),
        "track": _("Lighting track"),
        "multioutlet": _("Multioutlet assemblies"),
        "multioutlet_busy": _("Multioutlet assemblies, used together"),
    }
    for name, label in told.items():
        if plain.get(name):
            yield label, _amount(plain[name]), "", ""
    yield from _fed(plain, service)


def _dwelling(plain: Mapping[str, Any]) -> Iterator[tuple[str, str, str, str]]:
    service = plain.get("service", {})
    yield _("Floor area"), _amount(plain["floor_area"]), "", ""
    yield _("Small-appliance circuits"), str(plain["small_appliance_circuits"]), "", ""
    yield _("Laundry circuits"), str(plain["laundry_circuits"]), "", ""
    yield from _fed(plain, service)


def _fed(
    plain: Mapping[str, Any], service: Mapping[str, Any]
) -> Iterator[tuple[str, str, str, str]]:
    """What feeds the premises, what is held down, and the loads."""
    if "system" in service:
        feeder = _("a feeder") if service.get("feeder") else ""
        rating = _amount(service["rating"]) if service.get("rating") else ""
        yield _("Service or feeder"), rating, "", _joined(System(service["system"]).label, feeder)
    if plain.get("managed_at"):
        yield _("Energy management holds at"), _amount(plain["managed_at"]), "", ""
    for load in plain.get("loads", ()):
        yield _load(load)


def _load(load: Mapping[str, Any]) -> tuple[str, str, str, str]:
    kind = Kind(load["kind"]).label
    name = load.get("name") or kind.capitalize()
    count = load.get("count", 1)
    nameplate = _amount(load["nameplate"]) if load.get("nameplate") else _("not known")
    return (
        f"{count} × {name}" if count > 1 else name,
        nameplate,
        _amount({"value": load["volts"], "unit": "V"}) if load.get("volts") else "",
        _joined(kind if kind.casefold() != name.casefold() else "", *_flags(load)),
    )


def _flags(load: Mapping[str, Any]) -> Iterator[str]:
    words = {
        "motor": _("motor"),
        "controlled_separately": _("each with its own control"),
        "locked_out": _("compressor locked out"),
        "continuous": _("continuous"),
        "managed": _("held down by energy management"),
        "new": _("being added"),
    }
    if load.get("phases") == 3:
        yield _("three phases")
    if load.get("one_of"):
        yield _("never together with others of %(group)s") % {"group": load["one_of"]}
    yield from (word for name, word in words.items() if load.get(name))
    if load.get("power_factor"):
        yield _("power factor %(factor)s") % {"factor": show(load["power_factor"])}
    if load.get("horsepower"):
        yield _("%(hp)s hp") % {"hp": show(load["horsepower"])}
    if load.get("leg"):
        yield _("leg %(leg)s") % {"leg": load["leg"]}


def _amount(given: Any) -> str:
    """A quantity as it was given, e.g. 12 kW."""
    if isinstance(given, Mapping):
        unit = {"ft2": "ft²", "m2": "m²"}.get(given["unit"], given["unit"])
        return f"{show(given['value'])} {unit}"
    return str(given)


def _joined(*said: str) -> str:
    return ", ".join(filter(None, said))


def _words() -> dict[str, str]:
    """Every fixed word on the paper, in the reader's language."""
    return {
        "line": _("What"),
        "how": _("How"),
        "value": _("Value"),
        "section": _("Section"),
        "given": _("Given"),
        "nameplate": _("Nameplate"),
        "volts": _("Volts"),
        "remarks": _("Remarks"),
        "confirm": _("Confirm in the printed code"),
        "confirm_mark": _("(confirm)"),
        "amendments": _("Local amendments applied"),
        "caution": _("Caution"),
        "signed": _("Licence holder, signature"),
        "licence": _("Licence number"),
        "day": _("Date"),
        "by": _("Prepared by"),
        "where": _("Where"),
        "jurisdiction": _("Authority having jurisdiction"),
        "edition": _("Edition"),
        "software": _("Calculated by"),
        "sheet_of": _("Sheet %1 of %2"),
    }
