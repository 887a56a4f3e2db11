"""Two people changed one record from the same beginning: what stands, and what must be asked?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Meanwhile:
    """A field someone else changed: what it was, what it is now, and what was typed over it."""

    field: str
    was: Any
    now: Any
    typed: Any = None
    clashes: bool = False


def three_way(
    *, base: Mapping[str, Any], theirs: Mapping[str, Any], mine: Mapping[str, Any]
) -> tuple[dict[str, Any], list[Meanwhile]]:
    """The fields of `mine` joined with `theirs`, and every change of theirs worth telling.

    A field only one side changed takes that side's value. Where both did, and differently, mine
    stays in the form and is marked: nothing is saved until a person has seen it.
    """
    joined, told = dict(mine), []
    for field, typed in mine.items():
        was, now = base.get(field), theirs.get(field)
        if now in (was, typed):
            continue
        untouched = typed == was
        if untouched:
            joined[field] = now
        told.append(Meanwhile(field, was, now, typed, clashes=not untouched))
    return joined, told
