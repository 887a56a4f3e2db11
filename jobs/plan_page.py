"""What would this plan mean: what stands against it, and every crew's day beside it?"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field

from django.utils.formats import time_format

from contractor.models import Person
from jobs import queries, services
from jobs.forms.planning import REASON, PlanForm
from jobs.planning.refusals import Refusal
from jobs.planning.words import Code
from jobs.queries.week import FIRST_HOUR, LAST_HOUR, Strip, minute_of_strip


@dataclass(frozen=True)
class Against:
    """One kind of refusal with its sentences, and the reason typed against it."""

    code: Code
    sentences: list[str]
    can_override: bool
    reason: str

    @property
    def field(self) -> str:
        return REASON + self.code.value


@dataclass(frozen=True)
class Consequence:
    """`asked` says whether there was a whole plan to judge."""

    day: dt.date
    strips: list[Strip]
    asked: bool = False
    against: list[Against] = field(default_factory=list)
    crew_id: int | None = None
    x: int = 0
    width: int = 0
    starts_at: dt.datetime | None = None
    ends_at: dt.datetime | None = None

    @property
    def is_free(self) -> bool:
        return self.asked and not self.against

    @property
    def can_insist(self) -> bool:
        return bool(self.against) and all(row.can_override for row in self.against)

    @property
    def hour_words(self) -> list[str]:
        """What stands over the strips: one word for each hour that begins."""
        return [time_format(dt.time(hour), "P") for hour in range(FIRST_HOUR, LAST_HOUR)]

    @property
    def hours(self) -> list[tuple[int, int]]:
        """(minute on the strip, hour of the day) for each line of hours."""
        return [((hour - FIRST_HOUR) * 60, hour) for hour in range(FIRST_HOUR, LAST_HOUR + 1)]


def consequence(form: PlanForm, *, person: Person, now: dt.datetime) -> Consequence:
    if not (form.is_bound and form.is_valid_so_far()):
        day = form.day_looked_at() or now.astimezone(form.zone).date()
        return Consequence(day, queries.strips(person, on=day))
    said, zone = form.said(), form.zone
    starts_at, ends_at = said["starts_at"], form.ends_at()
    found = services.check(
        visit=form.visit, crew=said["crew"], people=form.going(), starts_at=starts_at,
        ends_at=ends_at, now=now,
    )  # fmt: skip
    day = starts_at.date()
    x = minute_of_strip(starts_at, zone)
    return Consequence(
        day,
        queries.strips(person, on=day),
        asked=True,
        against=_grouped(found, form.reasons()),
        crew_id=said["crew"].pk,
        x=x,
        width=max(minute_of_strip(ends_at, zone) - x, 5),
        starts_at=starts_at,
        ends_at=ends_at,
    )


def _grouped(found: list[Refusal], reasons: dict[str, str]) -> list[Against]:
    codes = list(dict.fromkeys(refusal.code for refusal in found))
    return [
        Against(
            code,
            [services.told(refusal) for refusal in found if refusal.code is code],
            all(refusal.can_override for refusal in found if refusal.code is code),
            reasons.get(code.value, ""),
        )
        for code in codes
    ]
