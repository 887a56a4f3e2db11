"""The edition of a site follows the day its permit was applied for; without one, today."""

from __future__ import annotations

import datetime as dt
import html

import pytest
from django.test import Client
from django.urls import reverse

from contractor.models import Site
from jobs.models import Job, Permit
from panels.models import Calculation
from panels.services.days import Day, day_for
from tests.factories import jobs
from tests.factories.contractor import CoordinatorFactory
from tests.panels.again import NOW, a_home, adopt, keep

pytestmark = pytest.mark.django_db
APPLIED = dt.date(2026, 3, 2)


def permit(site: Site, **said: object) -> Permit:
    job = Job.objects.filter(site=site).first() or jobs.job(at_site=site)
    return Permit.objects.create(
        job=job,
        **{"state": "applied", "number": "EL-26-0317", "applied_on": APPLIED, **said},  # type: ignore[arg-type]
    )


@pytest.fixture
def site(db: None) -> Site:
    """A home where 2017 was followed until the summer, and 2026 since."""
    adopt("OH", "2017", since=dt.date(2019, 7, 1))
    adopt("OH", "2026", since=dt.date(2026, 7, 1))
    return a_home()


def test_without_a_permit_it_is_today_at_the_site(site: Site) -> None:
    late = dt.datetime(2026, 11, 25, 3, 30, tzinfo=dt.UTC)  # still the 24th in Harrow Mills
    assert day_for(site=site, now=late) == Day(on=dt.date(2026, 11, 24))


def test_an_open_permit_decides_by_the_day_it_was_applied_for(site: Site) -> None:
    made = permit(site)
    day = day_for(site=site, now=NOW)
    assert day.on == APPLIED
    assert day.why == f"the day permit EL-26-0317 of job {made.job.number} was applied for"
    assert keep(site).edition == "2017"
    assert keep(site, on=dt.date(2026, 11, 25)).edition == "2026"


def test_the_newest_of_several_counts_and_one_without_a_day_does_not(site: Site) -> None:
    permit(site)
    permit(site, applied_on=None, state="needed", number="")
    permit(site, applied_on=None, issued_on=dt.date(2026, 8, 3), state="issued")
    assert day_for(site=site, now=NOW).on == dt.date(2026, 8, 3)


@pytest.mark.parametrize("state", ["finaled", "cancelled", "needed"])
def test_a_permit_that_is_not_open_decides_nothing(site: Site, state: str) -> None:
    permit(site, state=state)
    assert day_for(site=site, now=NOW).why == ""


def test_a_cancelled_job_decides_nothing(site: Site) -> None:
    Job.objects.filter(pk=permit(site).job_id).update(state="cancelled")
    assert day_for(site=site, now=NOW).why == ""


def test_the_page_says_by_which_day_and_offers_today(site: Site, client: Client) -> None:
    permit(site)
    client.force_login(CoordinatorFactory(), backend="django.contrib.auth.backends.ModelBackend")
    url = reverse("load", args=[site.pk])
    page = " ".join(html.unescape(client.get(url).content.decode()).split())
    assert "As in force on March 2, 2026, the day permit EL-26-0317 of job" in page
    assert "NFPA 70-2017" in page
    assert "As in force today" in page
    assert "NFPA 70-2026" in client.get(url, {"on": "2026-11-25"}).content.decode()
    client.post(url, {"method": "optional"})
    made = Calculation.objects.get()
    assert (made.edition, made.on) == ("2017", APPLIED)
