"""Which columns of a table of readings are the start, the length and the electricity?"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from panels.rules.meter.catalogue import DELIVERED, NET, RECEIVED

UNITS = {
    "kwh": (72, 3), "wh": (72, 0), "kw": (38, 3), "w": (38, 0), "kvah": (71, 3), "vah": (71, 0),
    "kva": (61, 3), "va": (61, 0), "therm": (169, 0), "therms": (169, 0), "ccf": (119, 2),
    "kvarh": (73, 3),
}  # fmt: skip
STARTS = ("interval start", "start", "from", "timestamp", "datetime", "date time", "reading time")
ENDS = ("interval end", "end", "to", "hour ending", "interval ending", "ending")
VALUES = ("usage", "consumption", "value", "energy", "demand", "reading", "import", "delivered")
GIVEN_BACK = ("received", "export", "exported", "returned", "generation", "generated", "reverse")
QUALITY = ("quality", "estimated", "estimate", "flag", "status", "read type")
METERS = ("meter", "meter number", "meter id", "channel", "service point", "register")
NOT_USE = re.compile(r"cost|price|charge|amount|\$|rate|tariff|temperature", re.IGNORECASE)


@dataclass(frozen=True)
class Value:
    """A column of numbers: unit and power of ten where its header says them, and the flow."""

    at: int
    unit: int | None
    power_of_ten: int | None
    flow: int | None


@dataclass(kw_only=True)
class Columns:
    """Where in a row what stands; None for what the table does not have."""

    width: int
    start: tuple[int, ...] = ()
    end: tuple[int, ...] = ()
    length: int | None = None
    length_unit: str = ""
    values: list[Value] = field(default_factory=list)
    unit: int | None = None
    quality: int | None = None
    meter: int | None = None

    @property
    def enough(self) -> bool:
        return bool((self.start or self.end) and self.values)


def columns_of(cells: Sequence[str]) -> Columns | None:
    """The columns a header names, or None where this is no header of readings."""
    words = [_plain(cell) for cell in cells]
    found = Columns(width=len(cells))
    found.start, found.end = _times(words)
    for at, (cell, word) in enumerate(zip(cells, words, strict=True)):
        _take(found, at, cell, word)
    return found if found.enough else None


def _take(found: Columns, at: int, cell: str, word: str) -> None:
    if at in found.start or at in found.end or NOT_USE.search(cell):
        return
    tokens = re.findall(r"[a-z]+", word)
    unit = next((UNITS[token] for token in reversed(tokens) if token in UNITS), None)
    if word.startswith(("duration", "length", "interval length", "interval minutes")):
        found.length = at
        found.length_unit = next((one for one in tokens if one in LENGTHS), "")
    elif word in ("unit", "units", "uom"):
        found.unit = at
    elif word in METERS:
        found.meter = at
    elif unit or any(token in VALUES for token in tokens):
        code, power = unit or (None, None)
        found.values.append(Value(at, code, power, _flow(tokens)))
    elif any(word.startswith(one) for one in QUALITY):
        found.quality = at


LENGTHS = {
    "s": 1, "sec": 1, "second": 1, "seconds": 1, "min": 60, "mins": 60, "minute": 60,
    "minutes": 60, "h": 3600, "hr": 3600, "hour": 3600, "hours": 3600,
}  # fmt: skip


def _flow(tokens: Sequence[str]) -> int | None:
    if any(token in GIVEN_BACK for token in tokens):
        return RECEIVED
    if "net" in tokens:
        return NET
    return DELIVERED if {"delivered", "import", "imported"}.intersection(tokens) else None


def _times(words: Sequence[str]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """The columns of start and end: one each, or a date with a time beside it."""
    start = _first(words, STARTS, but=("time", "date"))
    end = _first(words, ENDS, but=("time", "date"))
    date = _exact(words, ("date", "day", "usage date", "interval date"))
    if date is None:
        lone = _exact(words, ("time", "date and time", "start date and time"))
        return _places(start if start is not None else lone), _places(end)
    beside = _exact(
        words, ("start time", "time", "hour", "interval time", "interval start", "start")
    )
    until = _exact(words, ("end time", "interval end", "end"))
    return _places(date, beside), (() if until is None else (date, until))


def _first(words: Sequence[str], names: Sequence[str], *, but: Sequence[str]) -> int | None:
    """The column with one of these names, with or without "time" or "date" after it."""
    full = [f"{name}{more}" for name in names for more in ("", *(f" {one}" for one in but))]
    return _exact(words, full)


def _exact(words: Sequence[str], names: Sequence[str]) -> int | None:
    return next((words.index(name) for name in names if name in words), None)


def _places(*columns: int | None) -> tuple[int, ...]:
    return tuple(column for column in columns if column is not None)


def _plain(cell: str) -> str:
    """A header in small letters, its punctuation as single spaces."""
    return " ".join(re.sub(r"[^a-z0-9$]+", " ", cell.lower()).split())
