"""How is one field taken out of a plain description, so that a fault names the field?"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from typing import Any, TypeVar

from contractor.units import Quantity
from panels.rules.errors import BadDescription
from panels.rules.quantities import read_quantity
from panels.rules.spellings import spelt

T = TypeVar("T")
MOST = 100_000  # of anything countable here; what is above is a slip of the key

_ASKED: ContextVar[dict[str, set[str]] | None] = ContextVar("asked", default=None)


@contextmanager
def asked_for() -> Iterator[dict[str, set[str]]]:
    """What is asked for of each table read meanwhile, by its path: so a list need not be kept."""
    asked: dict[str, set[str]] = {}
    token = _ASKED.set(asked)
    try:
        yield asked
    finally:
        _ASKED.reset(token)


@dataclass(kw_only=True)
class Fields:
    """Takes fields one by one and refuses those left over, so no misspelt field is ignored."""

    plain: Mapping[str, Any]
    path: str = ""
    taken: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        if not isinstance(self.plain, Mapping):
            raise BadDescription(self.path or "description", "must be a table of named fields.")

    def at(self, name: str) -> str:
        return f"{self.path}.{name}" if self.path else name

    def fault(self, name: str, sentence: str) -> BadDescription:
        return BadDescription(self.at(name), sentence)

    def get(self, name: str, default: Any = None) -> Any:
        self.taken.add(name)
        if (asked := _ASKED.get()) is not None:
            asked.setdefault(re.sub(r"\[\d+\]", "[]", self.path), set()).add(name)
        return spelt(name, self.plain.get(name, default))

    def need(self, name: str, example: str) -> Any:
        value = self.get(name)
        if value is None or value == "":
            raise self.fault(name, f"is missing. Write e.g. {name} = {example}")
        return value

    def count(self, name: str, *, least: int = 0, default: int | None = None) -> int:
        value = self.need(name, "2") if default is None else self.get(name, default)
        if isinstance(value, float) and value.is_integer():
            value = int(value)  # JSON and spreadsheets write 2.0
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= MOST:
            told = f"must be a whole number from {least} to {MOST:,}."
            raise self.fault(name, f"{value!r} {told}" if len(repr(value)) < 40 else told)
        return value

    def yes(self, name: str) -> bool:
        value = self.get(name, False)
        if not isinstance(value, bool):
            raise self.fault(name, f"{value!r} must be true or false.")
        return value

    def number(self, name: str) -> float | None:
        value = self.get(name)
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int | float) or not 0 < value < MOST:
            raise self.fault(name, f"must be a number above zero and below {MOST:,}.")
        return float(value)

    def text(self, name: str, default: str = "") -> str:
        value = self.get(name, default)
        if not isinstance(value, str):
            raise self.fault(name, f"{value!r} must be a text in quotation marks.")
        return value.strip()

    def quantity(self, name: str, *, unit: str, example: str) -> Quantity:
        value = self.need(name, f'"{example}"')
        if name == "volts" and isinstance(value, int | float) and not isinstance(value, bool):
            value = {"value": value, "unit": "V"}  # the field's name says the unit
        return read_quantity(value, field=self.at(name), unit=unit, example=example)

    def maybe(self, name: str, *, unit: str, example: str) -> Quantity | None:
        if self.get(name) in (None, ""):
            return None
        return self.quantity(name, unit=unit, example=example)

    def tables(self, name: str) -> Iterator[Fields]:
        """The tables of a list, each with its place in its path."""
        rows = self.get(name, [])
        if not isinstance(rows, Sequence) or isinstance(rows, str):
            raise self.fault(name, "must be a list of tables.")
        for index, row in enumerate(rows):
            yield Fields(plain=row, path=f"{self.at(name)}[{index + 1}]")

    def build(self, shape: Callable[..., T], **given: Any) -> T:
        """`shape` of the fields taken; what it refuses is named by its place here."""
        try:
            return shape(**given)
        except BadDescription as fault:
            raise self.fault(fault.field, fault.fields[fault.field]) from None

    def done(self) -> None:
        """Refuse what nobody asked for."""
        for name in self.plain:
            if name not in self.taken:
                known = ", ".join(sorted(self.taken))
                raise self.fault(str(name), f"is not a field here. The fields are: {known}.")
