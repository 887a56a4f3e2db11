"""Work in the field for tests: visits done, lists answered, pictures and signatures."""

from __future__ import annotations

import datetime as dt
import io
from typing import Any

from django.core.files.base import ContentFile
from PIL import Image

from contractor.models import Crew, Person
from jobs import services as office
from jobs.models import CloseOut, CloseOutLine, Job, Visit
from jobs.planning.words import CloseOutKind, VisitState
from jobs.services import answers, field, measuring, photos, signing
from jobs.services.close_out import close_job
from panels.models import Panel
from panels.services.directory import issue_directory
from tests.factories import jobs as make
from tests.factories.panels import a_circuit, a_panel

DAY = make.MONDAY
MORNING = make.at(8)
STROKES = {
    "width": 320,
    "height": 176,
    "strokes": [[[20, 90], [60, 40], [100, 120], [140, 60]], [[160, 80], [220, 84.26]]],
}


def technician(name: str = "Dana Okafor", **fields: Any) -> Person:
    return make.person(name, **fields)


def on_the_plan(
    of: str = "Service call", *, people: list[Person] | None = None, at: dt.datetime = MORNING,
    name: str | None = None, **fields: Any,
) -> Visit:  # fmt: skip
    """A job's first visit (or the one of that name), planned for Monday with a crew on it."""
    job = make.job(of=of, **fields)
    first = name or job.visits.order_by("order").first().name
    crew: Crew = make.crew(*(people or [technician()]))
    return make.planned(first, of=job, by_crew=crew, starts_at=at)


def worker(visit: Visit) -> Person:
    """Who is on the visit."""
    return visit.assignments.order_by("person__name").first().person


def under_way(visit: Visit | None = None, **fields: Any) -> Visit:
    visit = visit or on_the_plan(**fields)
    return field.arrive(visit=visit, by=worker(visit), now=visit.starts_at)


def done(visit: Visit) -> Visit:
    if visit.state == VisitState.PLANNED:
        visit = under_way(visit)
    return field.leave(visit=visit, by=worker(visit), now=visit.ends_at)


def line(job: Job, asks: str) -> CloseOutLine:
    return job.close_out.filter(asks=asks).first()


def picture(colour: str = "teal", *, size: tuple[int, int] = (640, 480)) -> ContentFile:
    """A JPEG of one colour, as a phone would send it."""
    return picture_of(Image.new("RGB", size, colour))


def picture_of(image: Image.Image, **saved: Any) -> ContentFile:
    written = io.BytesIO()
    image.save(written, "JPEG", **saved)
    return ContentFile(written.getvalue(), name="IMG_0042.jpg")


def house(job: Job) -> Panel:
    """The job's panel, recorded on this job."""
    panel = a_panel(job.site)
    a_circuit(panel, 1, name="Kitchen counter")
    return panel


def answer(one: CloseOutLine, *, visit: Visit, by: Person, now: dt.datetime, panel: Panel) -> None:
    """Give the line what it asks for, through the services."""
    asks, who = CloseOutKind(one.asks), {"by": by, "now": now}
    if asks is CloseOutKind.CHECK:
        answers.tick(line=one, **who)
    elif asks is CloseOutKind.TEXT:
        answers.write(line=one, text="Loose neutral at the main, made up again.", **who)
    elif asks is CloseOutKind.PHOTO:
        photos.add_photo(visit=visit, upload=picture(), line=one, **who)
    elif asks is CloseOutKind.VOLTAGE:
        values = {"A-N": 121.4, "B-N": 121.1, "A-B": 242.6}
        measuring.measure(line=one, panel=panel, values=values, how={}, visit=visit, **who)
    elif asks is CloseOutKind.INSULATION:
        how = {"test_v": 500}
        measuring.measure(line=one, panel=panel, values={"A-G": 900}, how=how, visit=visit, **who)
    elif asks is CloseOutKind.TORQUE:
        how = {"marked_value": 250.0}
        values = {"main lug A": 250.0}
        measuring.measure(line=one, panel=panel, values=values, how=how, visit=visit, **who)
    elif asks is CloseOutKind.SIGNATURE:
        signing.sign(job=one.job, visit=visit, signed_name="Maren Holloway", strokes=STROKES, **who)


def ready(of: str = "Service call", **fields: Any) -> Visit:
    """The last visit of a job that has everything it needs to be closed."""
    visit = done(on_the_plan(of, **fields))
    job, by, now = visit.job, worker(visit), visit.ends_at
    for other in job.visits.exclude(pk=visit.pk):
        office.cancel_visit(visit=other, by=job.booked_by, now=now)
    panel = house(job)
    for one in job.close_out.select_related("job"):
        answer(one, visit=visit, by=by, now=now, panel=panel)
    issue_directory(panel=panel, by=by, now=now)
    return visit


def close(visit: Visit) -> CloseOut:
    return close_job(job=visit.job, by=worker(visit), now=visit.ends_at)
