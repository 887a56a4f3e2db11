"""What does a rule judge: each breaker, the panel, its multiwire groups, its sources?"""

from __future__ import annotations

from itertools import groupby

from panels.rules.check.facts import Breaker, Connected, PanelPlate, Record
from panels.rules.check.outcome import Place, Subject


def breaker_place(breaker: Breaker) -> Place:
    return Place("circuit", breaker.id)


def breakers(record: Record) -> list[Subject[Breaker]]:
    return [
        Subject(id=one.id, label=one.label, place=breaker_place(one), item=one)
        for one in record.breakers
    ]


def panel(record: Record) -> list[Subject[PanelPlate]]:
    plate = record.panel
    return [Subject(id=plate.id, label=plate.name, place=Place("panel", plate.id), item=plate)]


def readings(record: Record) -> list[Subject[PanelPlate]]:
    plate = record.panel
    return [Subject(id=plate.id, label=plate.name, place=Place("readings", plate.id), item=plate)]


def home(record: Record) -> list[Subject[PanelPlate]]:
    """The dwelling, judged with the panel its service feeds."""
    return [_site(record, "home", "The home")]


def entrance(record: Record) -> list[Subject[PanelPlate]]:
    return [_site(record, "entrance", "The service")]


def load(record: Record) -> list[Subject[PanelPlate]]:
    plate = record.panel
    place = Place("load", record.site)
    return [Subject(id=plate.id, label=plate.name, place=place, item=plate)]


def source_place(source: Connected) -> Place:
    return Place("source", source.id)


def sources(record: Record) -> list[Subject[Connected]]:
    return [
        Subject(id=one.id, label=one.name, place=source_place(one), item=one)
        for one in record.sources
    ]


def multiwire(record: Record) -> list[Subject[tuple[Breaker, ...]]]:
    """Each multiwire group: one breaker of several poles, or several that share a neutral."""
    named = sorted((one for one in record.breakers if one.multiwire), key=_group)
    found = []
    for name, members in groupby(named, key=_group):
        group = tuple(sorted(members, key=lambda one: one.place))
        label = f"Multiwire group {name}: {', '.join(one.place for one in group)}"
        place = breaker_place(group[0])
        found.append(Subject(id=f"multiwire-{name}", label=label, place=place, item=group))
    return found


def _group(breaker: Breaker) -> str:
    return breaker.multiwire.strip().casefold()


def _site(record: Record, kind: str, label: str) -> Subject[PanelPlate]:
    return Subject(id=record.site, label=label, place=Place(kind, record.site), item=record.panel)
