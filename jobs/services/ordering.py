"""Move one row one place among its neighbours."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any


def move_one_place(rows: Iterable[Any], row: Any, *, earlier: bool) -> None:
    """Number the rows from 1 with `row` one place earlier or later; at the end it stays."""
    placed = list(rows)
    at = next(place for place, found in enumerate(placed) if found.pk == row.pk)
    to = min(max(at + (-1 if earlier else 1), 0), len(placed) - 1)
    placed.insert(to, placed.pop(at))
    for order, found in enumerate(placed, start=1):
        if found.order != order:
            found.order = order
            found.save(update_fields=["order"])
