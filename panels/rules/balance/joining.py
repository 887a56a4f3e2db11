"""Which two lists of choices balance each other?"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from panels.rules.balance.breakers import Vector
from panels.rules.balance.lists import Array, Listed, TooMany

MOST_PAIRED = 8_000_000  # pairs looked at for two lists
AT_ONCE = 500_000


def joined(
    one: Listed, other: Listed, *, capacity: Vector, limit: int | None, most: int, least_only: bool
) -> tuple[int | None, list[tuple[int, int]]]:
    """The least imbalance up to `limit` that two choices make together, and up to `most` pairs of
    codes: those that make it or, not `least_only`, all within the limit. (None, []) where there
    is none. Raises `TooMany`.
    """
    if limit is None:
        limit = 2 * int(abs(one.load).max() + abs(other.load).max())
    small, large = (one, other) if len(one) <= len(other) else (other, one)
    order = np.argsort(small.u, kind="stable")
    room = np.array(capacity, np.int8).reshape(len(capacity), 1)
    found: list[tuple[int, int]] = []
    least: int | None = None
    for near, theirs in _near(small.u[order], large.u, limit):
        mine, theirs, size = _within(small, large, order[near], theirs, room, limit)
        if not len(size):
            continue
        new = int(size.min())
        if least_only and (least is None or new < least):
            found, limit = [], new
        least = new if least is None else min(least, new)
        at = np.flatnonzero(size <= limit)[: most - len(found)]
        found += zip(small.code[mine[at]].tolist(), large.code[theirs[at]].tolist(), strict=True)
    return least, found if small is one else [(b, a) for a, b in found]


def _within(
    small: Listed, large: Listed, mine: Array, theirs: Array, room: Array, limit: int
) -> tuple[Array, Array, Array]:
    """Of these pairs those within the limit that find room on each leg, and their imbalance."""
    size = _spread(small.u[mine] + large.u[theirs], small.v[mine] + large.v[theirs])
    keep = size <= limit
    mine, theirs, size = mine[keep], theirs[keep], size[keep]
    fits = (small.room[:, mine] + large.room[:, theirs] <= room).all(axis=0)
    return mine[fits], theirs[fits], size[fits]


def _near(sums: Array, others: Array, limit: int) -> Iterator[tuple[Array, Array]]:
    """Places in both lists (the first is in order) whose sums nearly cancel, many at a time."""
    first = np.searchsorted(sums, -others - limit, "left")
    counts = np.searchsorted(sums, -others + limit, "right") - first
    if int(counts.sum()) > MOST_PAIRED:
        raise TooMany
    some = np.flatnonzero(counts)
    first, counts = first[some], counts[some]
    ends = np.cumsum(counts)
    start = 0
    while start < len(counts):
        done = int(ends[start - 1]) if start else 0
        stop = max(start + 1, int(np.searchsorted(ends, done + AT_ONCE, "right")))
        part = counts[start:stop]
        within = np.arange(part.sum()) - np.repeat(np.cumsum(part) - part, part)
        yield np.repeat(first[start:stop], part) + within, np.repeat(some[start:stop], part)
        start = stop


def _spread(u: Array, v: Array) -> Array:
    """The largest leg less the smallest, from the differences of two of them to the third."""
    zero = np.zeros_like(u)
    return np.maximum(np.maximum(u, v), zero) - np.minimum(np.minimum(u, v), zero)
