"""How is any plain description shown, one line for each thing that was given?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from django.utils.translation import gettext as _

from panels.rules.quantities import show

Row = tuple[str, str, str, str]
# What a table in a list is called by, the first that it has.
NAMES = ("name", "panel", "circuit", "kind")
LONGEST = 24  # values of a list said one by one; a profile of a year is counted instead


def given(plain: Mapping[str, Any]) -> Iterator[Row]:
    """(what, value, "", remarks): simple fields first, then each table and each list of tables."""
    nested = {name: value for name, value in plain.items() if _is_nested(value)}
    for name, value in plain.items():
        if name not in nested and not _is_empty(value):
            yield words(name), amount(value), "", ""
    for name, value in nested.items():
        rows = [value] if isinstance(value, Mapping) else value
        for row in rows:
            yield _row(name, row)


def amount(value: Any) -> str:
    """A value as it was given: a quantity, a number, yes or no, a list."""
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, Mapping) and set(value) == {"value", "unit"}:
        return f"{show(value['value'])} {value['unit']}"
    if isinstance(value, int | float):
        return show(value)
    if isinstance(value, Sequence) and not isinstance(value, str):
        many = len(value) > LONGEST
        return _("%(n)d values") % {"n": len(value)} if many else ", ".join(map(amount, value))
    return str(value)


def words(name: str) -> str:
    """A field's name as a person reads it."""
    told = name.replace("_", " ")
    return told[:1].upper() + told[1:]


def _row(name: str, row: Mapping[str, Any]) -> Row:
    called = next((key for key in NAMES if row.get(key)), "")
    title = f"{words(name)}: {amount(row[called])}" if called else words(name)
    said = [
        f"{words(key).lower()} {_inside(value)}"
        for key, value in row.items()
        if key != called and not _is_empty(value)
    ]
    return title, "", "", "; ".join(said)


def _inside(value: Any) -> str:
    if isinstance(value, Mapping) and set(value) != {"value", "unit"}:
        told = (f"{words(k).lower()} {_inside(v)}" for k, v in value.items() if not _is_empty(v))
        return f"({', '.join(told)})"
    if _is_nested(value):
        return "; ".join(_inside(one) for one in value)
    return amount(value)


def _is_nested(value: Any) -> bool:
    if isinstance(value, Mapping):
        return set(value) != {"value", "unit"}
    is_list = isinstance(value, Sequence) and not isinstance(value, str)
    return is_list and bool(value) and isinstance(value[0], Mapping)


def _is_empty(value: Any) -> bool:
    return value is None or value == "" or value == [] or value == {}
