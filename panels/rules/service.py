"""Which current does a load draw, and which standard rating carries it?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from contractor.units import Q, Quantity
from panels.rules.demand import Demand, current_of, load_of
from panels.rules.dwelling import Dwelling
from panels.rules.edition import Edition
from panels.rules.errors import NotCovered
from panels.rules.quantities import AMPERE, VA, show, va
from panels.rules.sourced import Sourced
from panels.rules.working import Line, Section, line


def next_rating(current: Quantity, edition: Edition) -> Quantity:
    """The standard ampere rating at or next above `current`. Refused above the list's end."""
    ratings = edition.ratings.standard
    needed = float(current.m_as(AMPERE))
    for rating in ratings.value:
        if rating >= needed - 1e-9:
            return Q(float(rating), AMPERE)
    raise NotCovered(
        f"{show(current)} is above the largest standard rating, {ratings.value[-1]} A",
        cite=ratings.cite,
    )


def whole_amperes(current: Quantity, edition: Edition) -> Quantity:
    """The current without a fraction small enough to be dropped (220.5(B))."""
    amperes = float(current.m_as(AMPERE))
    fraction = amperes - math.floor(amperes)
    dropped = fraction < edition.ratings.fraction_dropped.value
    return Q(float(math.floor(amperes)), AMPERE) if dropped else current


def service_section(
    counted: Sequence[Demand], dwelling: Dwelling, edition: Edition,
    *, alone: bool, legs: Section | None = None,
) -> Section:  # fmt: skip
    """The load, its current, and the rating it asks for.

    Where the legs are known one by one, the fuller leg decides. Continuous loads are taken at
    125 % for the rating, not for the load (215.3, 230.42(A)). `alone`: one dwelling by itself.
    """
    service = dwelling.service
    current = current_of(counted, service.supply)
    lines = [
        line("load", "Calculated load", load_of(counted), total=True),
        line("current", "Current per leg", current, how=service.supply.system.label, total=True),
    ]
    if legs is not None:
        current = max(current, *(one.value for one in legs.lines if one.key != "line_n"))
    extra = _continuous_extra(dwelling)
    if extra.magnitude:
        how = f"{show(current)} + {show(extra)}"
        current = current + extra
        label = "With continuous loads at 125 %"
        lines.append(line("continuous", label, current, how=how, cite="215.3, 230.42(A)"))
    lines.append(rating_line(current, edition, one_family=alone and not service.feeder))
    if service.rating is not None:
        lines.append(left_line(current, service.rating))
    return Section(title="Service or feeder", lines=tuple(lines))


def left_line(current: Quantity, rating: Quantity) -> Line:
    """What a rating that is chosen already leaves; below zero where it is too small."""
    left, how = rating - current, f"{show(rating)} − {show(current)}"
    label, note = f"Left on {show(rating)}", ""
    if left.magnitude < 0:
        label, note = f"Not enough on {show(rating)}", "The load is above the rating."
    return line("left", label, left, how=how, note=note)


def _continuous_extra(dwelling: Dwelling) -> Quantity:
    """A quarter of what runs for hours; what is held down, no further than its set point."""
    steady = sum(load.all for load in dwelling.loads if load.continuous and not load.managed)
    held = sum(load.all for load in dwelling.managed if load.continuous)
    if dwelling.managed_at is not None:
        held = min(held, float(dwelling.managed_at.m_as(VA)))
    supply = dwelling.service.supply
    return supply.amperes(between_legs=va((steady + held) / 4), to_neutral=va(0.0))


def rating_line(current: Quantity, edition: Edition, *, one_family: bool) -> Line:
    """The standard rating that carries the current, and why it is that one."""
    ratings, label = edition.ratings, "Standard rating at least"
    if current > Q(float(ratings.standard.value[-1]), AMPERE):
        above = f"above {ratings.standard.value[-1]} A"
        note = "More than one service or feeder, or a higher voltage."
        return line("rating", label, above, ratings.standard, note=note, total=True)
    strict, size = (
        next_rating(current, edition),
        next_rating(whole_amperes(current, edition), edition),
    )
    sources: list[Sourced[Any]] = [ratings.standard]
    note, least = "", ratings.one_family_least
    if one_family and size < least.value:
        size, note = least.value, "The least for a one-family dwelling."
        sources.append(least)
    elif size < strict:
        note = f"A fraction of an ampere is dropped; strictly it would be {show(strict)}."
        sources.append(ratings.fraction_dropped)
    return line("rating", label, size, *sources, note=note, total=True)
