"""Jobs, crews and visits for tests, as the office would have made them."""

from __future__ import annotations

import datetime as dt
import zoneinfo
from typing import Any

from contractor.models import Crew, Grade, Person, Site
from jobs import services
from jobs.models import Hold, Job, JobKind, Visit
from tests.factories import contractor as firm_rows

ZONE = zoneinfo.ZoneInfo("America/New_York")
NOW = dt.datetime(2026, 11, 25, 9, 0, tzinfo=ZONE)  # a Wednesday
MONDAY = dt.date(2026, 11, 30)
PANEL_JOB = "Panel replacement with subpanel"

firm = firm_rows.FirmFactory
site = firm_rows.SiteFactory
coordinator = firm_rows.CoordinatorFactory
owner = firm_rows.OwnerFactory
certify = firm_rows.CertificateFactory


def at(hour: int, minute: int = 0, *, day: dt.date = MONDAY) -> dt.datetime:
    """A moment at the site, by default on Monday next."""
    return dt.datetime.combine(day, dt.time(hour, minute), tzinfo=ZONE)


def person(
    name: str = "", *, grade: int | None = Grade.JOURNEYMAN, expires_on: dt.date | None = None,
    **fields: Any,
) -> Person:  # fmt: skip
    """A technician with one licence of Ohio, or without any."""
    made: Person = firm_rows.TechnicianFactory(**({"name": name} if name else {}), **fields)
    if grade is not None:
        firm_rows.LicenceFactory(person=made, grade=grade, expires_on=expires_on)
    return made


def crew(*people: Person, **fields: Any) -> Crew:
    """A crew of these people, or of two journeymen."""
    made: Crew = firm_rows.CrewFactory(people=list(people) or [person(), person()], **fields)
    return made


def kind(name: str = PANEL_JOB) -> JobKind:
    return JobKind.objects.get(name=name)


def job(*, at_site: Site | None = None, of: str = PANEL_JOB, **fields: Any) -> Job:
    return services.book_job(
        **{
            "site": at_site or site(),
            "kind": kind(of),
            "title": "200 A main and a subpanel",
            "by": fields.pop("by", None) or coordinator(),
            "now": NOW,
            **fields,
        }
    )


def visit(name: str = "Survey", *, of: Job | None = None, free: bool = True) -> Visit:
    """A visit by name; `free` releases everything it waits for."""
    of = of or job()
    found = of.visits.select_related("job__site", "certificate_needed").get(name=name)
    if free:
        Hold.objects.filter(visit=found).update(released_at=NOW, released_by=of.booked_by)
    return found


def planned(
    name: str = "Survey", *, of: Job | None = None, by_crew: Crew | None = None,
    starts_at: dt.datetime | None = None, **fields: Any,
) -> Visit:  # fmt: skip
    """A visit with a crew on it, put there by the service."""
    found = visit(name, of=of)
    return services.assign_crew(
        visit=found,
        crew=by_crew or crew(),
        starts_at=starts_at or at(8),
        by=fields.pop("by", None) or found.job.booked_by,
        now=NOW,
        **fields,
    )
