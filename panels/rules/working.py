"""How does an answer show its working, and keep it when it is saved?"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from contractor.units import Q
from panels.rules.quantities import Value, code, show
from panels.rules.sourced import Sourced


@dataclass(frozen=True, kw_only=True)
class Line:
    """One step: what it is, its value, how it was reached and the section that asks for it.

    `key` is stable, so two calculations can be compared line by line. `confirm` is not empty
    when a value behind the line was never read in the code itself: a sentence a line for each.
    """

    key: str
    label: str
    value: Value
    how: str = ""
    cite: str = ""
    note: str = ""
    confirm: str = ""
    total: bool = False

    @property
    def shown(self) -> str:
        return show(self.value)

    @property
    def doubt(self) -> str:
        """How such values are known, in a few words; the whole of it stands once in `confirm`."""
        known = dict.fromkeys(re.findall(r": ([^:;]+); confirm", self.confirm))
        return f"{', '.join(known)}; confirm" if known else ""


def line(
    key: str, label: str, value: Value, *sources: Sourced[Any],
    how: str = "", note: str = "", cite: str = "", total: bool = False,
) -> Line:  # fmt: skip
    """A line that takes its citation and its need for confirming from the values behind it."""
    cites = [cite] if cite else []
    cites += [source.cite for source in sources]
    return Line(
        key=key,
        label=label,
        value=value,
        how=how,
        cite="; ".join(dict.fromkeys(cites)),
        note=" ".join(filter(None, [note, *dict.fromkeys(source.note for source in sources)])),
        confirm="\n".join(dict.fromkeys(filter(None, (source.confirm for source in sources)))),
        total=total,
    )


@dataclass(frozen=True, kw_only=True)
class Section:
    """Lines that belong together on the worksheet, under one heading."""

    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, kw_only=True)
class Result:
    """A calculation with its working: everything a screen, a paper or a test shows of it."""

    method: str
    method_title: str
    edition: str
    edition_title: str
    basis: str
    sections: tuple[Section, ...]
    cautions: tuple[str, ...] = ()
    amendments: tuple[str, ...] = ()

    @property
    def lines(self) -> Iterator[Line]:
        return (line for section in self.sections for line in section.lines)

    def line(self, key: str) -> Line:
        """The line of that key. Raises `KeyError` naming the keys there are."""
        for found in self.lines:
            if found.key == key:
                return found
        raise KeyError(f"no line {key!r}; there are {', '.join(line.key for line in self.lines)}")

    def value(self, key: str) -> Value:
        return self.line(key).value

    @property
    def confirm(self) -> tuple[str, ...]:
        """What to check in the printed code, each thing once."""
        told = (text for line in self.lines for text in line.confirm.splitlines())
        return tuple(dict.fromkeys(told))


def to_plain(result: Result) -> dict[str, Any]:
    """The result as JSON values; quantities as ``{"value": 18600.0, "unit": "VA"}``."""
    plain: dict[str, Any] = dict(vars(result))
    plain["sections"] = [
        {
            "title": section.title,
            "lines": [
                {**vars(line), "value": _plain_value(line.value), "shown": line.shown}
                for line in section.lines
            ],
        }
        for section in result.sections
    ]
    plain["cautions"] = list(result.cautions)
    plain["amendments"] = list(result.amendments)
    return plain


def from_plain(plain: Mapping[str, Any]) -> Result:
    """The result that `to_plain` wrote, so a saved calculation is shown without recomputing."""
    return Result(
        **{
            **plain,
            "sections": tuple(
                Section(
                    title=section["title"],
                    lines=tuple(_line(saved) for saved in section["lines"]),
                )
                for section in plain["sections"]
            ),
            "cautions": tuple(plain["cautions"]),
            "amendments": tuple(plain["amendments"]),
        }
    )


def _line(saved: Mapping[str, Any]) -> Line:
    fields = {name: value for name, value in saved.items() if name != "shown"}
    return Line(**{**fields, "value": _value(saved["value"])})


def _plain_value(value: Value) -> Any:
    if isinstance(value, int | float | str):
        return value
    return {"value": value.magnitude, "unit": code(value.units)}


def _value(saved: Any) -> Value:
    return Q(saved["value"], saved["unit"]) if isinstance(saved, dict) else saved
