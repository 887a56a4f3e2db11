"""How do the parts of a calculation become one result?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TypeAlias

from panels.rules.cautions import cautions
from panels.rules.demand import Demand
from panels.rules.dwelling import Building, Dwelling
from panels.rules.edition import Edition
from panels.rules.legs import legs_section
from panels.rules.lighting import lighting_circuits
from panels.rules.neutral import neutral_section
from panels.rules.service import service_section
from panels.rules.working import Line, Result, Section

Premises: TypeAlias = Dwelling | Building


def report(
    method: str, title: str, premises: Premises, edition: Edition,
    *,
    counted: Sequence[Demand],
    unbalance: Sequence[Demand],
    shown: Iterable[Section] = (),
    topics: Iterable[str] = (),
) -> Result:  # fmt: skip
    """The whole answer: what is counted, the neutral of `unbalance`, current and rating.

    `shown` replaces the sections of what is counted where more than that has to be shown.
    """
    dwelling = dwelling_of(premises)
    legs = legs_section(counted, dwelling, edition) if counted is unbalance else None
    alone = isinstance(premises, Dwelling)
    sections = [
        *(shown or map(section_of, counted)),
        neutral_section(unbalance, dwelling, edition, counted=counted),
        legs,
        service_section(counted, dwelling, edition, legs=legs, alone=alone),
        lighting_circuits(dwelling, edition) if alone else None,
    ]
    return assemble(method, title, edition, sections, topics=(*topics_of(premises), *topics))


def assemble(
    method: str, title: str, edition: Edition, sections: Iterable[Section | None],
    *, about: str = "load", topics: Iterable[str] = (),
) -> Result:  # fmt: skip
    """The result of sections that have lines, every line's key unique, cautions beside it.

    `about` and `topics` name the cautions that what is calculated calls for.
    """
    return Result(
        method=method,
        method_title=title,
        edition=edition.key,
        edition_title=edition.title,
        basis=edition.basis,
        sections=tuple(_unique([section for section in sections if section and section.lines])),
        cautions=cautions("planning", about, *topics, "isolation"),
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
