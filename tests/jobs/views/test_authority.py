"""Permits and inspections on their pages, and the lists the owner's numbers open."""

import datetime as dt
import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from jobs import queries, services
from jobs.models import Inspection, Job, Permit
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db
ON = dt.date(2026, 11, 25)


def due(on: dt.date, **fields) -> Inspection:
    inspection = make.job().inspections.get(name="Rough-in")
    Inspection.objects.filter(pk=inspection.pk).update(due_on=on, **fields)
    return inspection


def issued(expires_on: dt.date, **fields) -> Permit:
    permit = make.job().permits.get()
    good = {"state": "issued", "number": "E-1", "issued_on": ON, "expires_on": expires_on}
    Permit.objects.filter(pk=permit.pk).update(**(good | fields))
    return permit


def test_due_overdue_and_failed_never_name_an_inspection_twice():
    due_today, overdue = due(ON), due(ON - dt.timedelta(days=1))
    coming = due(ON - dt.timedelta(days=3), window_from=make.at(9), state="requested")
    missed = due(ON - dt.timedelta(days=3), window_from=make.at(9, day=ON - dt.timedelta(days=1)))
    due_never = make.job().inspections.first()
    failed = make.job().inspections.first()
    services.record_result(
        inspection=failed, passed=False, on=ON, findings="x", by=make.coordinator(), now=make.NOW
    )
    again = failed.again.get()
    assert set(queries.inspections_due(ON)) == {due_today, coming, again}
    assert set(queries.inspections_overdue(ON)) == {overdue, missed}
    assert list(queries.inspections_failed()) == [failed]
    services.record_result(
        inspection=again, passed=True, on=ON, by=make.coordinator(), now=make.NOW
    )
    assert not queries.inspections_failed().exists()
    assert due_never not in queries.inspections_due(ON)


def test_a_permit_lapses_on_the_day_and_not_the_day_before():
    last_day = ON + dt.timedelta(days=30)
    permit = issued(last_day)
    issued(last_day + dt.timedelta(days=1))
    issued(ON, state="finaled")
    gone = issued(ON - dt.timedelta(days=5))
    assert list(queries.permits_lapsing(ON, 30)) == [gone, permit]
    assert list(queries.permits_lapsing(ON, 29)) == [gone]


def test_cancelled_jobs_are_on_no_list():
    issued(ON)
    due(ON)
    Job.objects.update(state="cancelled")
    assert not queries.permits_lapsing(ON, 30).exists()
    assert not queries.inspections_due(ON).exists()


def test_a_permit_goes_from_needed_to_finaled_on_its_card(at_desk):
    job = make.job()
    permit, today = job.permits.get(), timezone.localdate(timezone=make.ZONE)
    authority = job.site.authority_id
    at_desk.post(reverse("permit-apply", args=[permit.pk]), {"on": today, "authority": authority})
    said = {"number": "E-26-1184", "on": today, "authority": authority}
    shown = at_desk.post(reverse("permit-issue", args=[permit.pk]), said, follow=True)
    assert "E-26-1184" in shown.content.decode()
    permit.refresh_from_db()
    assert permit.expires_on == today + dt.timedelta(days=180)
    refused = at_desk.post(reverse("permit-final", args=[permit.pk]), {"on": today})
    assert "has not passed yet" in refused.content.decode()
    for inspection in job.inspections.all():
        url = reverse("inspection-result", args=[inspection.pk])
        assert at_desk.post(url, {"passed": "yes", "on": today}).status_code == 302
    assert at_desk.post(reverse("permit-final", args=[permit.pk]), {"on": today}).status_code == 302
    permit.refresh_from_db()
    assert permit.state == "finaled"


def test_a_day_in_the_future_is_refused_at_its_field(at_desk):
    permit = make.job().permits.get()
    tomorrow = timezone.localdate() + dt.timedelta(days=2)
    said = {"number": "E-1", "on": tomorrow, "authority": permit.authority_id}
    answer = at_desk.post(reverse("permit-issue", args=[permit.pk]), said)
    assert answer.status_code == 422
    assert re.search(
        r'id="id_on"[^>]*aria-invalid|aria-invalid[^>]*id="id_on"', answer.content.decode()
    )


def test_issuing_is_taken_back_from_the_message(at_desk):
    permit = make.job().permits.get()
    said = {"number": "E-1", "on": timezone.localdate(), "authority": permit.authority_id}
    shown = at_desk.post(reverse("permit-issue", args=[permit.pk]), said, follow=True)
    undo = re.search(r'action="([^"]+take-back/)"', shown.content.decode())[1]
    at_desk.post(undo)
    permit.refresh_from_db()
    assert permit.state == "needed"


def test_an_inspection_is_asked_for_fails_and_is_due_again(at_desk):
    job = make.job()
    inspection, today = job.inspections.get(name="Service"), timezone.localdate()
    when = {"day": "2026-11-30", "opens": "09:00", "closes": "11:00", "inspector": "R. Hale"}
    at_desk.post(reverse("inspection-request", args=[inspection.pk]), when)
    inspection.refresh_from_db()
    assert (inspection.window_from, inspection.inspector) == (make.at(9), "R. Hale")
    url = reverse("inspection-result", args=[inspection.pk])
    assert at_desk.post(url, {"passed": "no", "on": today}).status_code == 422
    at_desk.post(url, {"passed": "no", "on": today, "findings": "Bonding jumper missing."})
    shown = at_desk.get(reverse("inspections"), {"state": "failed"}).content.decode()
    assert "Bonding jumper missing." in shown
    assert inspection.again.get().due_on == today + dt.timedelta(days=1)


LISTS = (
    "inspections/?state=due",
    "inspections/?state=overdue",
    "inspections/?state=failed",
    "permits/?lapsing=30",
    "permits/",
    "permits/?state=issued",
)


@pytest.mark.parametrize("asked", LISTS)
def test_the_lists_ask_the_database_equally_often_for_few_and_many(at_desk, asked):
    def make_some(count: int) -> None:
        today = timezone.localdate()
        for _ in range(count):
            due(today), due(today - dt.timedelta(days=9)), issued(today)
            failed = make.job().inspections.first()
            services.record_result(
                inspection=failed, passed=False, on=today, findings="x", by=make.coordinator(),
                now=timezone.now(),
            )  # fmt: skip

    def taken() -> int:
        at_desk.get(f"/{asked}")
        with CaptureQueriesContext(connection) as queries_taken:
            assert at_desk.get(f"/{asked}").status_code == 200
        return len(queries_taken)

    make_some(1)
    few = taken()
    make_some(3)
    assert taken() == few <= 10
