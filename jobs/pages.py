"""What does the page of a job show, made ready for its template?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.module_loading import import_string
from django.utils.translation import gettext as _

from contractor.access import Right, may
from contractor.models import Person
from contractor.sections import Section
from jobs import queries
from jobs.models import Hold, Inspection, Job, Permit, Visit
from jobs.planning.words import JobState, VisitState


@dataclass(frozen=True)
class Stop:
    """One station on the way of the job."""

    name: str
    aside: str
    mark: str


def job_page(job: Job, person: Person) -> dict[str, Any]:
    """For a job fetched by `queries.job_page`."""
    visits = [VisitCard.of(visit, job) for visit in job.visits.all()]
    free = (
        card
        for card in visits
        if card.can_plan and card.visit.state == VisitState.UNPLANNED and not card.is_held
    )
    return {
        "job": job,
        "office": may(person, Right.OFFICE),
        "today": timezone.localdate(timezone=job.site.zone),
        "cells": [
            (_("Job"), job.number),
            (_("Customer"), job.site.customer.name),
            (_("Utility"), job.site.utility),
        ],
        "booked": date_format(job.booked_at.astimezone(job.site.zone), "N j, Y"),
        "steps": way(job),
        "visits": visits,
        "next_card": next(free, None),
        "permits": [(permit, signed_off(permit, job)) for permit in job.permits.all()],
        "loose_inspections": [] if job.permits.all() else list(job.inspections.all()),
        "lines": list(job.close_out.all()),
        "people": people(job),
        "came_back": list(job.came_back_as.all()),
    }


def way(job: Job) -> list[Stop]:
    """The visits in order, then the close-out; the first not done is the next."""
    stops = [
        Stop(visit.name, when(visit), "done" if visit.state == VisitState.DONE else "")
        for visit in job.visits.all()
        if visit.state != VisitState.CANCELLED
    ]
    closed = job.state == JobState.CLOSED
    stops.append(Stop(_("Close-out"), closed_on(job), "done" if closed else ""))
    following = next((n for n, stop in enumerate(stops) if not stop.mark), None)
    if following is not None and job.state == JobState.OPEN:
        stop = stops[following]
        stops[following] = Stop(stop.name, stop.aside, "now")
    return stops


def when(visit: Visit) -> str:
    """Under a station: its day, or what it waits for."""
    if visit.starts_at:
        return date_format(visit.starts_at.astimezone(visit.job.site.zone), _("D N j, P"))
    holds = [queries.waiting_for(hold) for hold in visit.holds.all() if not hold.released_at]
    return _("waits for %(holds)s") % {"holds": ", ".join(holds)} if holds else _("not planned")


def closed_on(job: Job) -> str:
    return date_format(job.closed_at.astimezone(job.site.zone), "D N j") if job.closed_at else ""


@dataclass(frozen=True)
class VisitCard:
    """A visit with its holds in words."""

    visit: Visit
    holds: list[tuple[Hold, str]]
    is_held: bool
    can_plan: bool
    can_change: bool

    @classmethod
    def of(cls, visit: Visit, job: Job) -> VisitCard:
        visit.job = job
        holds = [(hold, queries.waiting_for(hold)) for hold in visit.holds.all()]
        ahead = visit.state in (VisitState.UNPLANNED, VisitState.PLANNED)
        is_open = job.state == JobState.OPEN
        return cls(
            visit=visit,
            holds=holds,
            is_held=ahead and any(hold.released_at is None for hold, _words in holds),
            can_plan=ahead and is_open,
            can_change=is_open and visit.state != VisitState.DONE,
        )


def signed_off(permit: Permit, job: Job) -> list[Inspection]:
    """The inspections stand on the permit's card; on the first, where a job has several."""
    first = next(iter(job.permits.all()))
    return list(job.inspections.all()) if permit == first else []


def people(job: Job) -> list[Person]:
    """Everyone who is or was on a visit of this job, by name."""
    found = {row.person for visit in job.visits.all() for row in visit.assignments.all()}
    return sorted(found, key=lambda person: person.name)


def sections(job: Job, person: Person) -> list[Section]:
    """What the rooms above add; `JOB_SECTIONS` names who is asked, in order."""
    asked = (import_string(name)(job, person) for name in settings.JOB_SECTIONS)
    return [section for section in asked if section is not None]
