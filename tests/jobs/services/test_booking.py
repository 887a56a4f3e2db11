"""Booking copies the kind, once, with the next number."""

import threading
import uuid

import pytest
from django.db import connection

from contractor.errors import Invalid, Refused
from jobs import services
from jobs.models import Job, JobKind, Visit
from jobs.planning.words import HoldKind, PermitState
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db


def test_a_new_firm_has_nine_kinds_marked_as_common_practice():
    assert JobKind.objects.count() == 9
    assert set(JobKind.objects.values_list("source", flat=True)) == {"common practice, no source"}


def test_a_panel_job_is_laid_out_as_its_kind_says():
    job = make.job()
    assert [visit.name for visit in job.visits.all()] == [
        "Survey", "Rough-in", "Cut-over", "Trim-out and commissioning", "Walk-through",
    ]  # fmt: skip
    cut_over = job.visits.get(name="Cut-over")
    assert [hold.kind for hold in cut_over.holds.all()] == [
        "permit",
        "material",
        "utility",
        "inspection",
    ]
    assert cut_over.holds.get(kind=HoldKind.INSPECTION).inspection.name == "Rough-in"
    assert [
        (inspection.name, inspection.after.name, inspection.due_days)
        for inspection in job.inspections.select_related("after")
    ] == [
        ("Rough-in", "Rough-in", 3), ("Service", "Cut-over", 1),
        ("Final", "Trim-out and commissioning", 5),
    ]  # fmt: skip
    assert job.permits.get().state == PermitState.NEEDED
    assert job.permits.get().authority == job.site.authority
    assert job.close_out.count() == make.kind().close_out.count() > 5


def test_a_service_call_needs_no_permit():
    assert not make.job(of="Service call").permits.exists()


def test_changing_the_kind_later_leaves_the_booked_job_alone():
    job = make.job()
    job.kind.visits.all().delete()
    job.kind.close_out.all().delete()
    assert job.visits.count() == 5
    assert job.close_out.exists()
    assert Visit.objects.get(job=job, name="Cut-over").holds.count() == 4


def test_numbers_follow_each_other():
    first, second = make.job(), make.job()
    assert (first.number, second.number) == (1001, 1002)


def test_the_same_booking_twice_is_one_job():
    site, by, job_id = make.site(), make.coordinator(), uuid.uuid4()
    first = make.job(at_site=site, by=by, job_id=job_id)
    again = make.job(at_site=site, by=by, job_id=job_id)
    assert again == first
    assert Job.objects.count() == 1
    with pytest.raises(Refused) as refused:
        make.job(at_site=site, by=by, job_id=job_id, title="Something else")
    assert refused.value.code == "id_taken"


def test_a_job_without_words_is_refused_at_its_field():
    with pytest.raises(Invalid) as refused:
        make.job(title="   ")
    assert "title" in refused.value.fields
    assert not Job.objects.exists()


def test_a_kind_no_longer_offered_is_refused():
    JobKind.objects.update(is_active=False)
    with pytest.raises(Refused) as refused:
        make.job()
    assert refused.value.code == "kind_inactive"


@pytest.mark.django_db(transaction=True)
def test_bookings_at_the_same_moment_get_different_numbers():
    site, by, kind = make.site(), make.coordinator(), make.kind()
    start, numbers = threading.Barrier(4), []

    def book():
        start.wait()
        numbers.append(
            services.book_job(site=site, kind=kind, title="Panel", by=by, now=make.NOW).number
        )
        connection.close()

    callers = [threading.Thread(target=book) for _ in range(4)]
    for caller in callers:
        caller.start()
    for caller in callers:
        caller.join()
    assert sorted(numbers) == [1001, 1002, 1003, 1004]
