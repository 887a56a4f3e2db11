"""The list of jobs, booking one, and its page."""

import datetime as dt
import re

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from jobs import services
from jobs.models import Job, Visit
from jobs.planning.words import JobState, VisitState
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db


def page(client: Client, name: str, *args, **asked) -> str:
    answer = client.get(reverse(name, args=args), asked)
    assert answer.status_code == 200, answer.content[:500]
    return answer.content.decode()


def queries_of(client: Client, url: str) -> int:
    client.get(url)
    with CaptureQueriesContext(
        connection,
    ) as taken:
        assert client.get(url).status_code == 200
    return len(taken)


def test_a_job_is_booked_from_the_site_to_its_page(at_desk, office):
    site, kind = make.site(), make.kind()
    assert str(site.pk) in page(at_desk, "job-new", q=site.street)
    url = f"{reverse('job-new')}?site={site.pk}"
    assert "Survey, Rough-in, Cut-over" in at_desk.get(url).content.decode()
    answer = at_desk.post(url, {"kind": kind.pk, "title": "200 A main", "scope": "Dog in yard"})
    job = Job.objects.get()
    assert (answer.status_code, answer["Location"]) == (302, reverse("job", args=[job.pk]))
    assert (job.site, job.booked_by, job.scope) == (site, office, "Dog in yard")
    shown = page(at_desk, "job", job.pk)
    for words in ("200 A main", "Walk-through", "Rough-in inspection", "Customer’s signature"):
        assert words in shown


def test_what_is_missing_comes_back_at_its_field_with_what_was_typed(at_desk):
    url = f"{reverse('job-new')}?site={make.site().pk}"
    answer = at_desk.post(url, {"title": "", "scope": "Dog in yard"})
    assert answer.status_code == 422
    assert "Dog in yard" in answer.content.decode()
    assert not Job.objects.exists()


def test_an_empty_firm_is_told_what_to_do_next(at_desk):
    assert "No open jobs" in page(at_desk, "jobs")
    assert "No sites yet" in page(at_desk, "job-new")
    assert "No site is called that" in page(at_desk, "job-new", q="zzz")
    assert "No crew goes out yet" in page(at_desk, "week")
    assert "No inspection is due" in page(at_desk, "inspections")
    assert "No permit fits that" in page(at_desk, "permits")


def test_the_list_finds_by_number_words_customer_street_and_permit(at_desk):
    job, other = make.job(title="Hot tub feeder"), make.job(title="Other work")
    issue = {"number": "E-26-77", "issued_on": make.NOW.date(), "by": job.booked_by}
    services.issue_permit(permit=job.permits.get(), now=make.NOW, **issue)
    for words in (
        str(job.number),
        "hot feeder",
        job.site.customer.name,
        job.site.street,
        "e-26-77",
    ):
        shown = page(at_desk, "jobs", q=words)
        assert str(job.pk) in shown, words
        assert str(other.pk) not in shown, words
    assert "No job fits that" in page(at_desk, "jobs", q="nothing like it")


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("unplanned", "unplanned: Survey"),
        ("planned", "planned: Survey"),
        ("on_site", "crew on site: Survey"),
        ("held", "Rough-in waits for permit and material (subpanel and feeder)"),
        ("inspection", "waits for inspection: Rough-in, Service and Final"),
        ("close_out", "to be closed out"),
    ],
)
def test_the_next_step_is_said_in_words_and_filtered_by(at_desk, step, words):
    job = in_step(step)
    other = make.job(title="Something else", of="Service call") if step != "unplanned" else None
    shown = page(at_desk, "jobs", step=step)
    assert words in re.sub(r"\s+", " ", shown)
    assert str(job.pk) in shown
    assert other is None or str(other.pk) not in shown


def in_step(step: str) -> Job:
    job = make.planned().job if step in ("planned", "on_site") else make.job()
    survey = job.visits.filter(name="Survey")
    if step == "on_site":
        survey.update(state=VisitState.UNDER_WAY)
    if step == "held":
        survey.update(state=VisitState.DONE)
    if step in ("inspection", "close_out"):
        job.visits.update(state=VisitState.DONE)
    if step == "close_out":
        job.inspections.update(state="cancelled")
    return job


def test_nonsense_in_the_filters_filters_nothing(at_desk):
    job = make.job()
    shown = page(at_desk, "jobs", state="x", kind="x", step="x", page="x")
    assert str(job.pk) in shown


def test_the_list_asks_the_database_equally_often_for_few_and_many_jobs(at_desk):
    for _ in range(2):
        make.job()
    few = queries_of(at_desk, reverse("jobs"))
    for _ in range(6):
        make.planned()
    assert queries_of(at_desk, reverse("jobs")) == few <= 12


def test_the_page_of_a_job_asks_equally_often_for_few_and_many_visits(at_desk):
    small, large = make.job(of="Service call"), make.job()
    make.planned("Service call", of=small)
    make.planned("Survey", of=large)
    make.planned("Rough-in", of=large, starts_at=make.at(8, day=dt.date(2026, 12, 2)))
    few = queries_of(at_desk, reverse("job", args=[small.pk]))
    assert queries_of(at_desk, reverse("job", args=[large.pk])) <= few + 1


def test_a_technician_sees_the_jobs_of_their_visits_only(in_van, technician, crew):
    mine = make.planned(by_crew=crew).job
    other = make.job()
    shown = page(in_van, "jobs")
    assert str(mine.pk) in shown
    assert str(other.pk) not in shown
    assert in_van.get(reverse("job", args=[other.pk])).status_code == 404
    assert "Cancel the job" not in page(in_van, "job", mine.pk)


OFFICE_ONLY = ("job-new", "inspections", "permits", "kinds", "kind-new")


@pytest.mark.parametrize("name", OFFICE_ONLY)
def test_office_pages_are_shut_to_technicians(in_van, name):
    assert in_van.get(reverse(name)).status_code == 403


def test_a_technician_changes_nothing_of_a_job_they_may_see(in_van, crew):
    visit = make.planned(by_crew=crew)
    hold = visit.job.visits.get(name="Rough-in").holds.first()
    for name, key in (
        ("job-cancel", visit.job_id), ("visit-plan", visit.pk), ("visit-unplan", visit.pk),
        ("visit-cancel", visit.pk), ("hold-release", hold.pk),
        ("permit-issue", visit.job.permits.get().pk),
    ):  # fmt: skip
        assert in_van.post(reverse(name, args=[key])).status_code == 403
    assert Visit.objects.get(pk=visit.pk).state == VisitState.PLANNED


def test_a_job_is_cancelled_with_a_reason_and_the_message_takes_it_back(at_desk):
    job = make.job()
    url = reverse("job-cancel", args=[job.pk])
    assert at_desk.post(url, {"because": "", "rev": job.rev}).status_code == 422
    shown = at_desk.post(url, {"because": "House sold", "rev": job.rev}, follow=True)
    assert "House sold" in shown.content.decode()
    undo = re.search(r'action="([^"]+reinstate/)"', shown.content.decode())[1]
    at_desk.post(undo)
    assert Job.objects.get().state == JobState.OPEN


def test_two_people_changing_one_job_are_told(at_desk):
    job = make.job()
    url, old = reverse("job-change", args=[job.pk]), {"title": "First", "rev": job.rev}
    assert at_desk.post(url, old).status_code == 302
    answer = at_desk.post(url, old | {"title": "Second"})
    assert (answer.status_code, Job.objects.get().title) == (422, "First")
    assert "Someone changed this" in answer.content.decode()


def test_the_sites_page_lists_its_jobs_and_offers_to_book(at_desk):
    job = make.job()
    shown = page(at_desk, "site", job.site.pk)
    assert f"{job.number} {job.title}" in shown
    assert f"{reverse('job-new')}?site={job.site.pk}" in shown


def test_visits_and_holds_are_changed_on_the_page_of_the_job(at_desk):
    job = make.job()
    visit = {"name": "Patching", "expected_minutes": 60, "people_needed": 1}
    at_desk.post(reverse("visit-new", args=[job.pk]), visit)
    added = job.visits.get(name="Patching")
    at_desk.post(reverse("visit-change", args=[added.pk]), visit | {"name": "Painting"})
    window = {"day": "2026-12-07", "opens": "08:00", "closes": "10:00"}
    at_desk.post(reverse("visit-promise", args=[added.pk]), window)
    hold = {"kind": "customer", "label": "walls dry", "expected_on": "2026-12-04"}
    at_desk.post(reverse("hold-new", args=[added.pk]), hold)
    shown = page(at_desk, "job", job.pk)
    for words in (
        "Painting",
        "arrival promised Mon Dec. 7",
        "customer (walls dry)",
        "expected Fri Dec. 4",
    ):
        assert words in shown
    dry = added.holds.get()
    released = at_desk.post(
        reverse("hold-release", args=[dry.pk]), {"reason": "called"}, follow=True
    )
    assert "Released: customer (walls dry)." in released.content.decode()
    at_desk.post(reverse("hold-again", args=[dry.pk]))
    assert added.holds.get().released_at is None
    at_desk.post(reverse("visit-cancel", args=[added.pk]))
    at_desk.post(reverse("visit-reinstate", args=[added.pk]))
    assert job.visits.get(name="Painting").state == VisitState.UNPLANNED


def test_a_promise_without_a_day_is_refused_at_its_field(at_desk):
    url = reverse("visit-promise", args=[make.visit().pk])
    answer = at_desk.post(url, {"opens": "08:00", "closes": "10:00"})
    assert (answer.status_code, "Say on which day." in answer.content.decode()) == (422, True)


def test_the_page_of_a_job_opens_in_every_state(at_desk):
    closed, cancelled, plain = make.job(), make.job(), make.job(of="Service call")
    Job.objects.filter(pk=closed.pk).update(
        state="closed", closed_at=make.NOW, closed_by=closed.booked_by
    )
    Job.objects.filter(pk=cancelled.pk).update(state="cancelled", cancelled_because="House sold")
    assert "Closed by" in page(at_desk, "job", closed.pk)
    assert "House sold" in page(at_desk, "job", cancelled.pk)
    assert "needs no permit" in page(at_desk, "job", plain.pk)


def test_a_job_closed_in_the_evening_was_closed_on_that_day_at_the_site(at_desk, office):
    job = make.job()
    late = make.at(21, 30)  # the next day in Greenwich
    Job.objects.filter(pk=job.pk).update(state=JobState.CLOSED, closed_at=late, closed_by=office)
    shown = page(at_desk, "job", job.pk)
    assert "Mon Nov. 30" in shown
    assert "Tue Dec. 1" not in shown
