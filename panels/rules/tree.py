"""Which panel feeds which, and would one more feeder close a loop?"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from typing import TypeVar

T = TypeVar("T", bound=Hashable)


def chain(parents: Mapping[T, T | None], panel: T) -> tuple[T, ...]:
    """The panel and everything upstream of it, nearest first; stops where a loop closes."""
    seen: list[T] = [panel]
    above = parents.get(panel)
    while above is not None and above not in seen:
        seen.append(above)
        above = parents.get(above)
    return tuple(seen)


def loop(parents: Mapping[T, T | None], *, panel: T, fed_from: T) -> tuple[T, ...]:
    """The loop that feeding `panel` from `fed_from` would close, downstream order from `panel`
    back to itself; empty when there is none."""
    upstream = chain(parents, fed_from)
    if panel not in upstream:
        return ()
    below = upstream[: upstream.index(panel) + 1]
    return (*reversed(below), panel)


def children(parents: Mapping[T, T | None]) -> dict[T | None, list[T]]:
    """The panels each one feeds, in the order given; under None those fed by the service."""
    fed: dict[T | None, list[T]] = {}
    for panel, above in parents.items():
        fed.setdefault(above if above in parents else None, []).append(panel)
    return fed
