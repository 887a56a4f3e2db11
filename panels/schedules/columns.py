"""Which row of the sheet is its header, and which column is which, on one side or on two?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from contractor.errors import Invalid
from contractor.lists import Column, Line
from contractor.lists.columns import plain

LOOK_FOR_HEADER_IN = 20

# Headers met on schedules; common practice, no source.
COLUMNS = (
    Column(
        "space",
        "Space",
        ("ckt", "ckt no", "ckt #", "cct", "cir", "circuit no", "circuit number", "circuit #", "no",
         "#", "number", "pos", "position", "slot", "space no", "pole space", "spaces", "circuit"),
        required=True,
        says=gettext_lazy("5, or 1,3 or 1-3 for every space it takes, or 5a for half a tandem."),
    ),
    Column(
        "poles",
        "Poles",
        ("pole", "p", "no of poles", "# poles", "# of poles", "number of poles"),
        says=gettext_lazy("Needed where the space alone does not say it."),
    ),
    Column(
        "rating_a",
        "Breaker A",
        ("breaker", "breaker amps", "breaker size", "brkr", "bkr", "cb", "amps", "amp", "a",
         "rating", "trip", "trip a", "trip amps", "ocp", "ocpd", "size"),
        required=True,
        says=gettext_lazy("20, or 50/2 or 2P50 with the poles."),
    ),
    Column(
        "name",
        "Description",
        ("desc", "circuit description", "load", "load description", "load served", "serves",
         "name", "circuit name", "designation", "directory", "what it serves", "remarks"),
        required=True,
        says=gettext_lazy("Spare is a breaker with nothing on it, space is an empty space."),
    ),
    Column("kind", "Kind", ("type",), says=gettext_lazy("circuit, feeder, source or spare.")),
    Column("feeds", "Feeds", ("feeds panel",), says=gettext_lazy("Name of the panel it feeds.")),
    Column(
        "wire",
        "Wire",
        ("wire size", "conductor", "conductors", "awg", "cond"),
        says=gettext_lazy("12 Cu, 2/0 Al."),
    ),
    Column("length_ft", "Length ft", ("length", "feet", "run ft")),
    Column(
        "protection",
        "Protection",
        ("gfci", "afci", "gfci afci", "afci gfci"),
        says=gettext_lazy("GFCI, AFCI, both, or plain."),
    ),
    Column("multiwire", "Multiwire", ("mwbc", "shared neutral")),
    Column("backed_up", "Backed up", ("backup", "standby"), says=gettext_lazy("yes or no.")),
    Column("shed_order", "Shed order", ("shed",)),
    Column("notes", "Notes", ("note", "comment", "comments")),
)  # fmt: skip
HEADERS = {column.field: column.header for column in COLUMNS}
IGNORED = {"phase", "ph", "leg", "bus", "va", "kva", "load va", "a b c", ""}
Half = Mapping[str, int]


@dataclass(frozen=True, kw_only=True)
class Header:
    """Where the header row is, and its columns by our fields: one half, or left and right."""

    at: int
    halves: tuple[Half, ...]
    titles: tuple[str, ...]
    unused: tuple[str, ...]


def header_of(lines: Sequence[Line]) -> Header:
    """The first row that names spaces and what they hold. Raises Invalid when there is none."""
    for at, (_line, cells) in enumerate(lines[:LOOK_FOR_HEADER_IN]):
        header = _read(at, cells)
        if header is not None:
            return header
    wanted = "”, “".join(column.header for column in COLUMNS if column.required)
    raise Invalid(
        "list_column_missing",
        _("No row of the list has the columns “%s”. Name them in the row above the breakers.")
        % wanted,
    )


def _read(at: int, cells: Sequence[str]) -> Header | None:
    left: dict[str, int] = {}
    right: dict[str, int] = {}
    unused = []
    for index, field in enumerate(_fields(cells)):
        if field is None:
            unused.append(cells[index])
        elif field not in left:
            left[field] = index
        elif field not in right:
            right[field] = index
        else:
            return None
    needed = {column.field for column in COLUMNS if column.required}
    if not needed <= set(left):
        return None
    halves = (left, right) if needed <= set(right) else (left,)
    said = tuple(title for title in unused if plain(title) not in IGNORED)
    return Header(at=at, halves=halves, titles=tuple(cells), unused=said)


def _fields(cells: Sequence[str]) -> list[str | None]:
    """Our field for each header. “Circuit” is the number, unless another column is: then it is
    what the circuit serves."""
    found = [_field(cell) for cell in cells]
    circuits = [index for index, cell in enumerate(cells) if plain(cell) == "circuit"]
    spaces = [index for index, field in enumerate(found) if field == "space"]
    if circuits and len(spaces) > len(circuits):
        for index in circuits:
            found[index] = "name"
    return found


def _field(header: str) -> str | None:
    said = plain(header)
    return next((column.field for column in COLUMNS if said in column.headers), None)
