"""What of a visit counts for where and in which order it is put?"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from jobs.planning.problem import Span, Visit
from jobs.planning.solve.state import (
    AFTER,
    BEFORE,
    NEVER,
    TOGETHER,
    Whole,
)
from jobs.planning.solve.tables import whole

LONG = 1 << 40  # longer than any horizon, with room to be multiplied

Link = tuple[int, int, int, int]


def nodes(visits: Sequence[Visit]) -> Sequence[Visit]:
    """One per crew that a visit asks for."""
    return [visit for visit in visits for _ in range(visit.crews)]


def heads(visits: Sequence[Visit]) -> Whole:
    firsts = [0, *accumulate(visit.crews for visit in visits)]
    return whole(first for first, v in zip(firsts, visits, strict=False) for _ in range(v.crews))


def open_windows(visit: Visit) -> Sequence[Span]:
    """The windows of a visit in order; a pinned start is the only one."""
    if visit.pin and visit.pin.start is not None:
        start = visit.pin.start
        open_then = not visit.windows or any(start in window for window in visit.windows)
        return [Span(start=start, end=start)] if open_then else [Span(start=NEVER, end=NEVER)]
    return sorted(visit.windows, key=lambda window: (window.start, window.end))


def open_for(visit: Visit) -> int:
    spans = [visit.promised] if visit.promised else open_windows(visit)
    return sum(span.end - span.start for span in spans) if spans else LONG


def closes(visit: Visit) -> int:
    spans = [visit.promised] if visit.promised else open_windows(visit)
    return min(
        max((span.end for span in spans), default=LONG), LONG if visit.due is None else visit.due
    )


def linked(visits: Sequence[Visit]) -> Sequence[Sequence[Link]]:
    """For each node those it stands in a rule with: other, kind, least and most."""
    first: dict[str, int] = {}
    for i, visit in enumerate(visits):
        first.setdefault(visit.key, i)
    rows: list[list[Link]] = [[] for _ in visits]
    for i, visit in enumerate(visits):
        for after in visit.after:
            if (other := first.get(after.visit)) is None:
                continue
            most = NEVER if after.most is None else after.most
            rows[i].append((other, AFTER, after.least, most))
            if first[visit.key] == i:
                for k in range(other, other + visits[other].crews):
                    rows[k].append((i, BEFORE, after.least, most))
        if (same := first.get(visit.together or "")) is not None:
            rows[i].append((same, TOGETHER, 0, 0))
            rows[same].append((i, TOGETHER, 0, 0))
    return rows


def ranks(visits: Sequence[Visit]) -> Whole:
    """What counts most first: what must be done, what was promised, what weighs more."""
    sort = sorted({worth(visit) for visit in visits})
    return whole(sort.index(worth(visit)) for visit in visits)


def worth(visit: Visit) -> tuple[bool, bool, int]:
    return visit.optional, visit.promised is None, -visit.weight
