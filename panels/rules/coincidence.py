"""Which of loads that never run together count (220.60)?"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeVar, cast

from panels.rules.demand import item
from panels.rules.dwelling import Building, Equipped, Kind, Load
from panels.rules.edition import Edition
from panels.rules.quantities import percent, show, va
from panels.rules.working import Line, Result, Section, line

P = TypeVar("P", bound="Equipped | Building")
TITLE = "Loads that never run together"


def coincident(premises: P, edition: Edition, calculate: Callable[[P, Edition], Result]) -> Result:
    """The calculation without the loads that stay off, and with the lines that say why."""
    kept, lines = settled(premises, edition)
    result = calculate(kept, edition)
    if not lines:
        return result
    section = Section(title=TITLE, lines=tuple(lines))
    return replace(result, sections=(section, *result.sections))


def settled(premises: P, edition: Edition) -> tuple[P, list[Line]]:
    """The premises with only the largest of each group, and the lines of the groups."""
    if isinstance(premises, Building):
        return cast("tuple[P, list[Line]]", _of_building(premises, edition))
    loads, lines = running(premises.loads, edition)
    return replace(premises, loads=loads), lines


def _of_building(building: Building, edition: Edition) -> tuple[Building, list[Line]]:
    """Each dwelling and the house have groups of their own."""
    units, told = [], []
    for unit in building.units:
        loads, lines = running(unit.dwelling.loads, edition)
        units.append(replace(unit, dwelling=replace(unit.dwelling, loads=loads)))
        told += lines
    house, lines = running(building.house_loads, edition)
    return replace(building, units=tuple(units), house_loads=house), [*told, *lines]


def running(loads: Sequence[Load], edition: Edition) -> tuple[tuple[Load, ...], list[Line]]:
    """Of each group the largest; a motor that is not, where its raised load is larger still.

    What energy management holds down is in no group: its set point says what runs.
    """
    groups: dict[str, list[Load]] = {}
    for load in loads:
        if load.one_of and not load.managed:
            groups.setdefault(load.one_of, []).append(load)
    lines: list[Line] = []
    counted: dict[int, Load] = {}
    for name, group in groups.items():
        original, chosen = _chosen(group, edition)
        counted[id(original)] = chosen
        lines += _lines(name, group, chosen, edition)
    off = {id(load) for group in groups.values() for load in group} - set(counted)
    return tuple(counted.get(id(load), load) for load in loads if id(load) not in off), lines


def _chosen(group: Sequence[Load], edition: Edition) -> tuple[Load, Load]:
    """The load that counts, and as what it counts."""
    largest = max(group, key=lambda load: (load.all, load.name))
    pairs = [(load, raised_motor(load, largest, edition)) for load in group]
    return max(pairs, key=lambda pair: (pair[1].all, pair[1].name))


def raised_motor(load: Load, largest: Load, edition: Edition) -> Load:
    """A motor beside a larger load, at the edition's comparison; then it is no motor any more."""
    factor = edition.climate.noncoincident.value
    if load is largest or not load.driven or factor <= 1 or load.apparent is None:
        return load
    more = va(load.one * factor)
    return replace(load, kind=Kind.OTHER, motor=False, apparent=more, current=None)


def _lines(name: str, group: Sequence[Load], counted: Load, edition: Edition) -> list[Line]:
    largest, rule = max(load.all for load in group), edition.climate.noncoincident
    note = f"{counted.name} counts, the others do not."
    if counted.all > largest:
        note = f"{counted.name} at {percent(rule.value)} is larger than {show(va(largest))}. {note}"
    total = line(
        f"one_of_{name}", f"Of these, {name}", va(counted.all), rule, note=note, total=True
    )
    return [*(item(load) for load in group), total]
