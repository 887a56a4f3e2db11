"""What is asked of the plan: one visit, these people, then. All times are in the site's zone."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field

from jobs.planning.supervision import Supervision


@dataclass(frozen=True, kw_only=True)
class Held:
    """A licence: its grade, the state it is good in (empty: any), the last day it is good."""

    grade: int
    state: str = ""
    expires_on: dt.date | None = None

    def counts_in(self, state: str) -> bool:
        return not self.state or not state or self.state == state

    def good_on(self, day: dt.date) -> bool:
        return self.expires_on is None or self.expires_on >= day


@dataclass(frozen=True, kw_only=True)
class Away:
    """Days someone is away, first and last included."""

    first_day: dt.date
    last_day: dt.date
    reason: str


@dataclass(frozen=True, kw_only=True)
class Engaged:
    """Another visit a person is on."""

    visit: str
    place: str
    starts: dt.datetime
    ends: dt.datetime


@dataclass(frozen=True, kw_only=True)
class Worker:
    name: str
    licences: tuple[Held, ...] = ()
    certificates: Mapping[str, dt.date | None] = field(default_factory=dict)
    absences: tuple[Away, ...] = ()
    elsewhere: tuple[Engaged, ...] = ()

    def grade_on(self, day: dt.date, state: str) -> int | None:
        """The highest grade good on that day in that state; None without any."""
        good = [
            licence.grade
            for licence in self.licences
            if licence.counts_in(state) and licence.good_on(day)
        ]
        return max(good, default=None)

    def certified_on(self, day: dt.date, certificate: str) -> bool:
        if certificate not in self.certificates:
            return False
        expires_on = self.certificates[certificate]
        return expires_on is None or expires_on >= day


@dataclass(frozen=True, kw_only=True)
class Step:
    """A neighbouring visit of the same job that is planned."""

    visit: str
    starts: dt.datetime
    ends: dt.datetime


@dataclass(frozen=True, kw_only=True)
class Ask:
    """One visit, the people meant for it, the time, and all that may stand against it."""

    job: str
    visit: str
    crew: str
    starts: dt.datetime
    ends: dt.datetime
    now: dt.datetime
    workers: tuple[Worker, ...]
    state: str = ""
    job_closed: bool = False
    job_state: str = ""
    visit_over: bool = False
    visit_state: str = ""
    people_needed: int = 1
    grade_needed: int | None = None
    grade_name: str = ""
    certificate_needed: str = ""
    promised: tuple[dt.datetime, dt.datetime] | None = None
    holds: tuple[str, ...] = ()
    before: tuple[Step, ...] = ()
    after: tuple[Step, ...] = ()
    hours: tuple[dt.time, dt.time] = (dt.time(7), dt.time(17))
    workdays: frozenset[int] = frozenset({1, 2, 3, 4, 5})
    supervision: Supervision | None = None

    def __post_init__(self) -> None:
        if self.ends <= self.starts:
            raise ValueError("a visit ends after it starts")

    @property
    def first_day(self) -> dt.date:
        return self.starts.date()

    @property
    def last_day(self) -> dt.date:
        return self.ends.date()
