"""What came of calculating homes again: the lists of one round, and the rounds there were."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.db.models import F, QuerySet

from panels.models import Recalculated, Recalculation

State = Recalculated.State
CHANGED, OVER, FAILED = "changed", "over", "failed"


def rounds() -> QuerySet[Recalculation]:
    return Recalculation.objects.select_related("asked_by")


def lists(run: Recalculation) -> dict[str, QuerySet[Recalculated]]:
    """Its lists by name, what needs looking at first: the largest current first in each."""
    lines = run.lines.select_related("site", "before", "after").order_by(
        F("after__amps").desc(nulls_last=True), F("before__amps").desc(nulls_last=True), "pk"
    )
    lines = lines.only(*SHOWN)
    return {
        OVER: lines.filter(over=True),
        CHANGED: lines.filter(state=State.CHANGED),
        FAILED: lines.filter(state=State.FAILED),
    }


SHOWN = (
    "method", "state", "over", "record_changed", "why", "recalculation_id",
    "site__label", "site__street", "site__city", "site__state", "site__zip",
    "before__edition", "before__amps", "before__made_at",
    "after__edition", "after__amps",
)  # fmt: skip

COLUMNS = (
    "Site", "City", "State", "ZIP", "Method", "What came of it", "Edition before",
    "Amperes before", "Edition now", "Amperes now", "Above the service", "Record changed since",
    "Why not",
)  # fmt: skip


def rows(run: Recalculation) -> Iterator[tuple[Any, ...]]:
    """Every line that was worked on, for a spreadsheet, in the order of `COLUMNS`."""
    worked = run.lines.exclude(state=State.WAITING).order_by("site__street", "pk")
    names = (
        "site__street", "site__city", "site__state", "site__zip", "method", "state",
        "before__edition", "before__amps", "after__edition", "after__amps", "over",
        "record_changed", "why",
    )  # fmt: skip
    for line in worked.values_list(*names).iterator(chunk_size=2000):
        *start, over, changed, why = line
        yield (*start, "yes" if over else "", "yes" if changed else "", why)
