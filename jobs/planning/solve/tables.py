"""How do lists become arrays?"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import accumulate

import numpy as np

from jobs.planning.solve.state import (
    Whole,
)


def offsets(lists: Sequence[Sequence[object]], at: int) -> Whole:
    """Where each list begins when they lie one after the other from `at` on, and the end."""
    return at + whole([0, *accumulate(map(len, lists))])


def in_order(columns: Mapping[int, Whole], rows: int) -> Whole:
    """Columns by their numbers."""
    made = np.zeros((rows, len(columns)), np.int64)
    for number, column in columns.items():
        made[:, number] = column
    return made


def table(rows: Sequence[Sequence[int]], width: int) -> Whole:
    return np.array(rows, np.int64).reshape(len(rows), width)


def whole(values: Iterable[int]) -> Whole:
    return np.array(list(values), np.int64)
