"""What does this firm usually call a circuit? Read from its latest records, not from all."""

from __future__ import annotations

from collections import Counter

from django.core.cache import cache

from panels.models import Circuit
from panels.rules.names import Common

LATEST = 3000
OFTEN = 3
OFFERED = 40
KEPT_SECONDS = 600
KEY = "panels.names.own"


def own_names() -> list[Common]:
    """Names the firm used at least three times among its latest circuits, commonest first.

    Looking at the latest only keeps the cost the same whatever the size of the archive; what
    is found is kept for ten minutes.
    """
    found: list[Common] | None = cache.get(KEY)
    if found is None:
        found = _count()
        cache.set(KEY, found, KEPT_SECONDS)
    return found


def _count() -> list[Common]:
    rows = Circuit.objects.exclude(name="").order_by("-changed_at")
    rows = rows.filter(kind=Circuit.Kind.BRANCH)
    said: Counter[tuple[str, int]] = Counter()
    ratings: dict[tuple[str, int], Counter[int]] = {}
    for name, poles, rating_a in rows.values_list("name", "poles", "rating_a")[:LATEST]:
        said[name, poles] += 1
        ratings.setdefault((name, poles), Counter())[rating_a] += 1
    return [
        Common(name=name, poles=poles, ratings=tuple(sorted(ratings[name, poles])))
        for (name, poles), times in said.most_common(OFFERED)
        if times >= OFTEN
    ]
