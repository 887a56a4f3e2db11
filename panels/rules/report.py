"""How do the parts of a calculation become one result?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from panels.rules.cautions import cautions
from panels.rules.demand import Demand
from panels.rules.dwelling import Building, Dwelling
from panels.rules.edition import Edition
from panels.rules.working import Line, Result, Section

Premises = Dwelling | Building


def report(
    method: str, title: str, edition: Edition, sections: Iterable[Section | None],
    *, topics: Iterable[str] = (),
) -> Result:  # fmt: skip
    """The result: sections that have lines, every line's key made unique, cautions beside it."""
    return Result(
        method=method,
        method_title=title,
        edition=edition.key,
        edition_title=edition.title,
        basis=edition.basis,
        sections=tuple(_unique([section for section in sections if section and section.lines])),
        cautions=cautions("planning", "load", *topics, "isolation"),
        amendments=edition.amendments,
    )


def _unique(sections: Iterable[Section]) -> Iterable[Section]:
    seen: Counter[str] = Counter()
    for section in sections:
        lines = tuple(_numbered(line, seen) for line in section.lines)
        yield replace(section, lines=lines)


def _numbered(line: Line, seen: Counter[str]) -> Line:
    seen[line.key] += 1
    again = seen[line.key]
    return replace(line, key=f"{line.key}_{again}") if again > 1 else line


def section_of(demand: Demand) -> Section:
    return Section(title=demand.label, lines=demand.lines)


def dwelling_of(premises: Premises) -> Dwelling:
    """The dwelling itself, or all dwellings of a building taken together."""
    return premises.pooled if isinstance(premises, Building) else premises


def topics_of(premises: Premises) -> list[str]:
    """Which further cautions these premises call for."""
    dwelling = dwelling_of(premises)
    topics = []
    if isinstance(premises, Dwelling) and not dwelling.laundry_circuits:
        topics.append("no_laundry")
    if dwelling.managed:
        topics.append("managed")
    return topics
