"""How is any plain description shown, one line for each thing that was given?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from panels.rules.quantities import show

Row = tuple[str, str, str, str]
# What a table in a list is called by, the first that it has.
NAMES = ("name", "panel", "circuit", "kind")
# Short words of plain descriptions, as a person reads them.
SAID = {
    "cu": gettext_lazy("copper"), "al": gettext_lazy("aluminum"),
    "pvc": gettext_lazy("nonmetallic"), "1ph-240": gettext_lazy("120/240 V, single phase"),
    "3ph-208": gettext_lazy("208Y/120 V, three phase"), "x_over_r": "X/R", "percent_z": "%Z",
}  # fmt: skip
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
            yield from _rows(name, row)


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
    return str(SAID.get(value, value)) if isinstance(value, str) else str(value)


def words(name: str) -> str:
    """A field's name as a person reads it."""
    if name in SAID:
        return str(SAID[name])
    told = name.replace("_", " ")
    return told[:1].upper() + told[1:]


def _rows(name: str, row: Mapping[str, Any]) -> Iterator[Row]:
    """A table in one line; each table of a list within it in a line of its own, below."""
    title, called = _title(name, row)
    lists = {key: value for key, value in row.items() if _is_list_of_tables(value)}
    yield title, "", "", _remarks(row, {called, *lists})
    for key, tables in lists.items():
        for table in tables:
            below, name_of_it = _title(key, table)
            short = called and name_of_it  # both have names: those say it
            where = f"{amount(row[called])}, {amount(table[name_of_it])}" if short else ""
            yield where or f"{title}. {below}", "", "", _remarks(table, {name_of_it})


def _title(name: str, row: Mapping[str, Any]) -> tuple[str, str]:
    called = next((key for key in NAMES if row.get(key)), "")
    return (f"{words(name)}: {amount(row[called])}" if called else words(name)), called


def _remarks(row: Mapping[str, Any], left_out: set[str]) -> str:
    said = (
        f"{_within(key)} {_inside(value)}"
        for key, value in row.items()
        if key not in left_out and not _is_empty(value)
    )
    return "; ".join(said)


def _within(key: str) -> str:
    return words(key) if key in SAID else words(key).lower()


def _inside(value: Any) -> str:
    if isinstance(value, Mapping) and set(value) != {"value", "unit"}:
        told = (f"{_within(k)} {_inside(v)}" for k, v in value.items() if not _is_empty(v))
        return f"({', '.join(told)})"
    if _is_nested(value):
        return "; ".join(_inside(one) for one in value)
    return amount(value)


def _is_nested(value: Any) -> bool:
    if isinstance(value, Mapping):
        return set(value) != {"value", "unit"}
    return _is_list_of_tables(value)


def _is_list_of_tables(value: Any) -> bool:
    is_list = isinstance(value, Sequence) and not isinstance(value, str)
    return is_list and bool(value) and isinstance(value[0], Mapping)


def _is_empty(value: Any) -> bool:
    return value is None or value == "" or value == [] or value == {}
