"""What is a job waiting for next, in words?"""

from __future__ import annotations

from collections.abc import Sequence

from jobs.planning.words import Word, gettext_noop, listed


class NextStep(Word):
    """Where a job stands; the first that applies, in this order."""

    CLOSED = "closed"
    CANCELLED = "cancelled"
    ON_SITE = "on_site"
    PLANNED = "planned"
    HELD = "held"
    UNPLANNED = "unplanned"
    INSPECTION = "inspection"
    CLOSE_OUT = "close_out"

    @property
    def label(self) -> str:
        return LABELS[self.value]


LABELS = {
    "closed": gettext_noop("closed"),
    "cancelled": gettext_noop("cancelled"),
    "on_site": gettext_noop("crew on site"),
    "planned": gettext_noop("planned"),
    "held": gettext_noop("waits for something"),
    "unplanned": gettext_noop("can be planned"),
    "inspection": gettext_noop("waits for inspection"),
    "close_out": gettext_noop("to be closed out"),
}

SENTENCES = {
    NextStep.CLOSED: gettext_noop("closed"),
    NextStep.CANCELLED: gettext_noop("cancelled"),
    NextStep.ON_SITE: gettext_noop("crew on site: {visit}"),
    NextStep.PLANNED: gettext_noop("planned: {visit}"),
    NextStep.HELD: gettext_noop("{visit} waits for {holds}"),
    NextStep.UNPLANNED: gettext_noop("unplanned: {visit}"),
    NextStep.INSPECTION: gettext_noop("waits for inspection: {inspections}"),
    NextStep.CLOSE_OUT: gettext_noop("to be closed out"),
}


def why_unplanned(*, holds: Sequence[str], before: Sequence[str]) -> tuple[str, dict[str, str]]:
    """Why an unplanned visit is not on the plan: what it waits for, else what comes first.

    The sentence with names in braces, and what fills them.
    """
    if holds:
        return gettext_noop("Waits for {holds}."), {"holds": listed(holds)}
    if before:
        return gettext_noop("Comes after {visits}, not planned yet."), {"visits": listed(before)}
    return gettext_noop("Nothing stands in its way."), {}
