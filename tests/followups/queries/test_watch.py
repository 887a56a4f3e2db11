"""Which work brings the firm back: counted honestly, in the firm's own weeks."""

from __future__ import annotations

import datetime as dt
import html
import re

import pytest
import time_machine
from django.test import Client
from django.urls import reverse

from contractor.models import Person
from followups.queries import watch
from followups.services import callbacks, praise
from tests.factories import contractor as firm_rows
from tests.factories import followups as made
from tests.factories import jobs as planned

pytestmark = pytest.mark.django_db
SINCE = made.CLOSED_AT - dt.timedelta(days=1)


@pytest.fixture(autouse=True)
def _firm() -> None:
    planned.firm()


def test_the_share_counts_jobs_not_callbacks() -> None:
    office = planned.coordinator()
    twice, never = made.closed_job(), made.closed_job()
    for _time in range(2):
        callbacks.open_callback(job=twice, what="It hums.", by=office, now=made.WEEK_LATER)
    made.closed_job(closed_at=SINCE - dt.timedelta(days=1))  # before the period
    (rate,) = watch.came_back_by_kind(SINCE)
    assert (rate.kind_id, rate.closed, rate.came_back) == (never.kind_id, 2, 1)
    assert rate.percent == 50
    assert rate.is_few


def test_causes_are_counted_and_unknown_ones_named_so() -> None:
    office = planned.coordinator()
    for cause in ("loose", "loose", ""):
        opened = callbacks.open_callback(
            job=planned.job(), what="It hums.", by=office, now=made.WEEK_LATER
        )
        callbacks.note(callback=opened, by=office, cause=cause)
    counted = {row.cause: row.count for row in watch.causes(SINCE)}
    assert counted == {"loose": 2, "": 1}


def test_a_job_closed_on_sunday_night_belongs_to_that_week_in_the_firms_zone() -> None:
    sunday = dt.datetime(2026, 12, 6, 23, 30, tzinfo=made.ZONE)  # Monday in UTC
    made.closed_job(closed_at=sunday)
    weeks = watch.weeks(now=sunday + dt.timedelta(days=1), zone=made.ZONE)
    assert {week.monday: week.closed for week in weeks if week.closed} == {dt.date(2026, 11, 30): 1}


def test_licences_and_certificates_running_out_of_people_who_work_here() -> None:
    today = dt.date(2026, 12, 1)
    soon, late, lapsed = (
        planned.person(grade=30, expires_on=today + dt.timedelta(days=days))
        for days in (60, 61, -1)
    )
    gone = planned.person(grade=30, expires_on=today)
    Person.objects.filter(pk=gone.pk).update(is_active=False)
    certified = firm_rows.CertificateFactory(person=late, expires_on=today)
    found = watch.licences_expiring(today)
    assert [row.person for row in found] == [lapsed, late, soon]
    assert found[1] == certified


def test_praise_is_told_once_with_everyone_it_went_to() -> None:
    ana, ben = planned.person("Ana"), planned.person("Ben")
    job = made.closed_job(ana, ben)
    praise.pass_on(job=job, text="Lovely.", by=planned.coordinator(), now=made.WEEK_LATER)
    (said,) = watch.recent_praise(SINCE)
    assert (said.text, said.names) == ("Lovely.", "Ana, Ben")


def test_each_number_opens_a_list_of_as_many(client: Client) -> None:
    """Twice back for one job is one job; what is older than the weeks counted is in no list."""
    now, old = made.WEEK_LATER, made.CLOSED_AT - dt.timedelta(weeks=30)
    owner = firm_rows.OwnerFactory()
    twice, before = made.closed_job(), made.closed_job(closed_at=old)
    for job, at in ((twice, now), (twice, now + dt.timedelta(hours=1)), (before, old)):
        opened = callbacks.open_callback(job=job, what="It hums.", by=owner, now=at)
        callbacks.note(callback=opened, by=owner, cause="loose")
        callbacks.close(callback=opened, by=owner, now=at, cause="loose", resolution="Tightened.")
    client.force_login(owner, backend="django.contrib.auth.backends.ModelBackend")
    with time_machine.travel(now + dt.timedelta(days=1)):
        page = client.get(reverse("watch"))
        links = re.findall(r'href="([^"]*(?:kind|cause)=[^"]*)"', page.content.decode())
        (rate,), (cause,) = page.context["rates"], page.context["causes"]
        kinds, causes = (client.get(html.unescape(link)) for link in links)
    assert len(kinds.context["page"].object_list) == rate.came_back == 1
    assert len(causes.context["page"].object_list) == cause.count == 2
    assert "the last one of each job closed since" in kinds.content.decode()
