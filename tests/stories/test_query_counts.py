"""How often does each page ask the database, and does that stay so when the firm grows?

The counts are those of the invented firm. A page that asks more often than before fails here:
look why, then change the number on purpose.
"""

from __future__ import annotations

import itertools
import uuid
from collections.abc import Callable
from functools import partial
from typing import Any

import pytest
from django.db import connection, models, transaction
from django.test.utils import CaptureQueriesContext

from contractor.models import Customer, Licence, Person, Site
from followups.demo import PASSWORD
from followups.models import Callback, Message, Reply, Thanks
from jobs.models import CloseOutLine, Hold, Inspection, Job, JobKind, Permit, Photo, Visit
from panels.models import (
    Adoption,
    Calculation,
    Load,
    MeterData,
    Panel,
    Reading,
    Recalculation,
    Source,
)
from panels.queries.governed import touched
from panels.services import recalculating, recalculations
from panels.services.circuits import put_breaker
from tests.stories.test_access import Undone
from tests.stories.visitor import Visitor

pytestmark = pytest.mark.usefixtures("invented_firm")
# Three of each page are the session, the person and the firm.
PAGES = {
    "watch": 20, "week": 14, "day": 7, "jobs": 9, "jobs, closed": 9, "book a job": 5, "job": 18,
    "job, closed": 20, "plan a visit": 16, "visit": 28, "close-out": 24, "closing": 21,
    "close-out record": 5, "permits": 6, "inspections": 8, "kinds": 6, "kind": 11,
    "planning rules": 5, "customers": 5, "customer": 9, "sites": 5, "site": 17, "duplicates": 4,
    "people": 9, "person": 12, "firm": 4, "account": 6, "history of a site": 7, "panel": 31,
    "panel check": 21, "recording": 7, "circuit": 6, "conductor": 7, "conductors": 3,
    "readings": 8, "directory": 11, "backup": 5, "outage": 11, "leg balance": 9,
    "schedule as CSV": 6, "load": 11, "will it fit": 17, "meter": 5, "meter file": 10,
    "calculation": 5, "adoptions": 5,
    "calculate again": 9, "calculated again": 7, "callbacks": 5,
    "callback": 8, "replies": 8, "reply": 7, "silent check-ins": 5, "messages": 6, "message": 4,
    "praise": 7, "service": 4, "feeders": 15, "fault": 15, "kept fault study": 5,
}  # fmt: skip


def signed_in(name: str) -> Visitor:
    visitor = Visitor()
    visitor.sign_in(f"{name}@tallowcreek.example", PASSWORD)
    return visitor


def asked(visitor: Visitor, url: str) -> int:
    """Queries of one page, once everything that is remembered has been looked up."""
    visitor.client.get(url)
    with CaptureQueriesContext(connection) as queries:
        answer = visitor.client.get(url)
    assert answer.status_code == 200, f"{url}: {answer.status_code}"
    return len(queries)


def busiest(rows: Any, *, by: str, then: str) -> Any:
    """The row with the most of what hangs on it: a page is measured where it is fullest."""
    return rows.annotate(many=models.Count(by)).order_by("-many", then).first()


def pages() -> dict[str, str]:
    """Each page of the firm, at its fullest row."""
    site = busiest(Site.objects.filter(panels__isnull=False), by="jobs", then="street")
    panel = busiest(Panel.objects, by="circuits", then="site__street")
    job = busiest(Job.objects.filter(state="open"), by="visits", then="number")
    closed = busiest(Job.objects.filter(state="closed"), by="close_out", then="number")
    with_panel = Visit.objects.filter(state="planned", job__site__panels__isnull=False)
    visit = with_panel.order_by("starts_at").first()
    callback, message = Callback.objects.latest("opened_at"), Message.objects.earliest("sent_at")
    calculation = Calculation.objects.order_by("site__street", "method").first()
    again = calculated_again(calculation)
    study = Calculation.objects.filter(method="fault").earliest("made_at")
    circuit = panel.circuits.order_by("slots").first()
    battery = Source.objects.filter(kind="storage").order_by("site__street").first()
    person = busiest(Person.objects, by="certificates", then="name")
    reply = Reply.objects.earliest("answered_at")
    readings = MeterData.objects.defer("readings").earliest("taken_at")
    return {
        "watch": "/watch/", "week": "/week/", "day": "/day/", "jobs": "/jobs/",
        "jobs, closed": "/jobs/?state=closed", "book a job": "/jobs/new/",
        "job": f"/jobs/{job.pk}/", "job, closed": f"/jobs/{closed.pk}/",
        "plan a visit": f"/visits/{visit.pk}/plan/", "visit": f"/visits/{visit.pk}/",
        "close-out": f"/jobs/{job.pk}/close-out/", "closing": f"/jobs/{job.pk}/close-out/close/",
        "close-out record": f"/jobs/{closed.pk}/close-out/record/",
        "permits": "/permits/", "inspections": "/inspections/?state=due", "kinds": "/kinds/",
        "kind": f"/kinds/{job.kind_id}/", "planning rules": "/planning-rules/",
        "customers": "/customers/", "customer": f"/customers/{site.customer_id}/",
        "sites": "/sites/", "site": f"/sites/{site.pk}/", "duplicates": "/customers/duplicates/",
        "people": "/people/", "person": f"/people/{person.pk}/", "firm": "/firm/",
        "account": "/account/", "history of a site": f"/history/site/{site.pk}/",
        "panel": f"/panels/{panel.pk}/", "panel check": f"/panels/{panel.pk}/check/",
        "recording": f"/panels/{panel.pk}/record/",
        "circuit": f"/circuits/{circuit.pk}/",
        "conductor": f"/circuits/{circuit.pk}/conductor/", "conductors": "/conductors/",
        "readings": f"/panels/{panel.pk}/readings/",
        "directory": f"/panels/{panel.pk}/directory/", "backup": f"/sites/{panel.site_id}/backup/",
        "outage": f"/sites/{battery.site_id}/outage/",
        "schedule as CSV": f"/panels/{panel.pk}/schedule.csv",
        "leg balance": f"/panels/{panel.pk}/balance/",
        "load": f"/sites/{calculation.site_id}/load/",
        "will it fit": f"/sites/{calculation.site_id}/fit/?kind=vehicle&nameplate=48&unit=A",
        "meter": f"/sites/{readings.site_id}/meter/", "meter file": f"/meter/{readings.pk}/",
        "calculation": f"/calculations/{calculation.pk}/", "adoptions": "/adoptions/",
        "calculate again": f"/adoptions/{again.adoption_id}/recalculate/",
        "calculated again": f"/recalculations/{again.pk}/",
        "callbacks": "/callbacks/?show=all", "callback": f"/callbacks/{callback.pk}/",
        "replies": "/replies/?show=all", "reply": f"/replies/{reply.pk}/",
        "silent check-ins": "/replies/?show=silent", "messages": "/messages/?state=sent",
        "message": f"/messages/{message.pk}/", "praise": "/thanks/",
        "service": f"/sites/{calculation.site_id}/service/",
        "feeders": f"/sites/{calculation.site_id}/feeders/",
        "fault": f"/sites/{calculation.site_id}/fault/",
        "kept fault study": f"/calculations/{study.pk}/",
    }  # fmt: skip


def calculated_again(calculation: Calculation) -> Recalculation:
    """The homes of an adoption that is changed by an amendment, worked to the end."""
    now, by = calculation.made_at, calculation.made_by
    adoption = next(row for row in Adoption.objects.all() if touched(row)[0])
    adoption.amendments = [
        {"field": "lighting.unit_load", "value": "4 VA/ft2", "source": "Ordinance 9, invented"}
    ]
    adoption.save()
    run = recalculations.ask(adoption=adoption, by=by, now=now, today=now.date())
    while recalculating.work_batch(run.pk, now=now):
        pass
    return run


def test_each_page_asks_as_often_as_it_did() -> None:
    owner = signed_in("dana")
    found = {name: asked(owner, url) for name, url in pages().items()}
    print("\n".join(f"{count:4}  {name}" for name, count in found.items()))  # noqa: T201
    assert found == PAGES


def test_a_firm_of_twice_the_size_asks_no_more_often() -> None:
    """Doubled once, every page shows all it can show; doubled again, it may not ask once more."""
    owner, urls, counts = signed_in("dana"), pages(), []
    try:
        with transaction.atomic():
            for _time in range(2):
                double_everything()
                counts.append({name: asked(owner, url) for name, url in urls.items()})
            raise Undone
    except Undone:
        twice, four_times = counts
    more = {name: (twice[name], count) for name, count in four_times.items()}
    assert {name: each for name, each in more.items() if each[1] > each[0]} == {}


def double_everything() -> None:
    """Every row of the lists a second time, under the same parents or under their copies."""
    customers = doubled(Customer, list_key=None)
    sites = doubled(Site, customer=customers)
    doubled(Panel, site=sites, fed_from=None)
    for person in doubled(Person, email=uuid.uuid4, phone="").values():
        Licence.objects.create(person_id=person, grade=3, number="J-9")
    kinds = doubled(JobKind, name=lambda: f"Kind {uuid.uuid4()}", answers_callbacks=False)
    jobs = doubled(Job, number=count_from(Job.objects.latest("number").number + 1), kind=kinds)
    visits = doubled(Visit, job=jobs) | doubled(Visit)
    doubled(Hold, visit=visits)
    doubled(Hold)
    doubled(Permit, job=jobs)
    doubled(Permit)
    doubled(Inspection, job=jobs)
    doubled(Inspection)
    doubled(CloseOutLine)
    doubled(Photo)
    doubled(Source)
    doubled(Reading)
    doubled(Load)
    doubled(MeterData, digest=lambda: uuid.uuid4().hex)
    doubled(Calculation)
    doubled(Callback, reply=None)
    doubled(Reply)
    doubled(Message, dedup_key=uuid.uuid4, message_id=uuid.uuid4)
    doubled(Thanks, reply=None)
    fill(Panel.objects.annotate(many=models.Count("circuits")).order_by("-many")[0])


def doubled(model: type[models.Model], **changed: Any) -> dict[Any, Any]:
    """A copy of every row: key to the key of its copy. What is `changed` is a value, a maker of
    values, or the copies of its parents."""
    copies = {}
    for row in list(model._default_manager.all()):
        key = row.pk
        row.pk = uuid.uuid4() if isinstance(key, uuid.UUID) else None
        row._state.adding = True
        for name, value in changed.items():
            field = model._meta.get_field(name)
            was = getattr(row, field.attname)
            new = value.get(was, was) if isinstance(value, dict) else value
            setattr(row, field.attname, new() if callable(new) else new)
        row.save(force_insert=True)
        copies[key] = row.pk
    return copies


def count_from(number: int) -> Callable[[], int]:
    return partial(next, itertools.count(number))


def fill(panel: Panel) -> None:
    """A breaker in every space that is left."""
    by = Person.objects.first()
    taken = {space for one in panel.circuits.all() for space in one.seat_in(panel.frame).spaces}
    for space in sorted(set(range(1, panel.spaces + 1)) - taken):
        put_breaker(panel=panel, space=space, rating_a=20, name=f"Outlets {space}", by=by)
