"""Until when is a permit good, and by when is an inspection due?

Days a permit stays good, and what they are counted from, differ by authority; the three ways
of counting are those read in the authorities' own words:
Green Cove Springs FL, 180 days from issue or after the most recent inspection; Deltona FL, 180
days without an approved inspection; Eugene OR, 180 days for an electrical permit, each completed
inspection extends; Florida building practice at UCF, 180 days with extensions granted by letter.
"""

from __future__ import annotations

import datetime as dt
import enum
from collections.abc import Sequence
from dataclasses import dataclass


class CountedFrom(enum.StrEnum):
    """The event an authority counts a permit's days from; the issue itself always counts."""

    ISSUE = "issue"
    INSPECTION = "inspection"
    PASSED = "passed"


@dataclass(frozen=True, kw_only=True)
class ExpiryRule:
    """One authority's way of letting a permit lapse."""

    days: int
    counted_from: CountedFrom

    def __post_init__(self) -> None:
        if self.days < 1:
            raise ValueError("a permit stays good for one day at least")


@dataclass(frozen=True, kw_only=True)
class Inspected:
    """An inspection that took place: the day, and whether it passed."""

    on: dt.date
    passed: bool


def good_until(
    rule: ExpiryRule,
    *,
    issued_on: dt.date,
    inspections: Sequence[Inspected] = (),
    extended_until: dt.date | None = None,
) -> dt.date:
    """The last day the permit is good.

    The days run from the latest event that counts; an extension the authority granted in
    writing holds when it reaches further. Inspections before the issue do not count.
    """
    counting = [
        inspected.on
        for inspected in inspections
        if rule.counted_from is CountedFrom.INSPECTION
        or (rule.counted_from is CountedFrom.PASSED and inspected.passed)
    ]
    by_rule = max([issued_on, *counting]) + dt.timedelta(days=rule.days)
    return max(by_rule, extended_until or by_rule)


def inspection_due_on(*, work_done_on: dt.date, days: int) -> dt.date:
    """The day by which the inspection should have been, counted from the visit or the failure.

    Common practice, no source: an authority that names its own number is typed into the kind.
    """
    return work_done_on + dt.timedelta(days=days)
