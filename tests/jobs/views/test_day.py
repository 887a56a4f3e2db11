"""The technician's day: their own visits in order, with what is worth knowing at the door."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from followups.models import Thanks
from jobs import services as office_services
from jobs.planning.words import HoldKind
from jobs.queries.day import day_of, next_stop
from jobs.services import field
from tests.factories import field as make_field
from tests.factories import jobs as make
from tests.factories.contractor import SiteFactory

pytestmark = pytest.mark.django_db
ON = {"on": make.MONDAY.isoformat()}


def planned(crew, hour: int, *, day: dt.date = make.MONDAY, **said):
    job = make.job(of="Service call", **said)
    return make.planned("Service call", of=job, by_crew=crew, starts_at=make.at(hour, day=day))


def test_my_visits_of_the_day_in_the_order_they_are_driven(technician, crew):
    late, early = planned(crew, 13), planned(crew, 8)
    planned(crew, 8, day=make.MONDAY + dt.timedelta(days=1))
    planned(make.crew(), 8)
    assert [stop.visit for stop in day_of(technician, make.MONDAY)] == [early, late]


def test_the_day_is_the_sites_day(technician, crew):
    site = SiteFactory(time_zone="America/Los_Angeles")
    visit = planned(crew, 11, at_site=site)
    type(visit).objects.filter(pk=visit.pk).update(  # 11 PM there, Tuesday in UTC and in Ohio
        starts_at=dt.datetime(2026, 12, 1, 7, tzinfo=dt.UTC),
        ends_at=dt.datetime(2026, 12, 1, 9, tzinfo=dt.UTC),
    )
    assert [stop.visit for stop in day_of(technician, make.MONDAY)] == [visit]
    assert day_of(technician, make.MONDAY + dt.timedelta(days=1)) == []


def test_what_is_worth_knowing_stands_on_the_sheet(in_van, technician, crew):
    site = SiteFactory(access_notes="Gate code 4471.", pet_notes="One dog, friendly.")
    job = make.job(at_site=site, of="Vehicle supply equipment")
    office_services.issue_permit(
        permit=job.permits.get(), number="EL-26-0317", issued_on=make.NOW.date(),
        by=job.booked_by, now=make.NOW,
    )  # fmt: skip
    office_services.request_inspection(
        inspection=job.inspections.get(), by=job.booked_by, window_from=make.at(10),
        window_until=make.at(12), inspector="Inspector Hale",
    )  # fmt: skip
    visit = make.planned("Survey", of=job, by_crew=crew)
    office_services.promise_arrival(
        visit=visit, by=job.booked_by, now=make.NOW, promised_from=make.at(8),
        promised_until=make.at(9),
    )  # fmt: skip
    office_services.add_hold(
        visit=visit, kind=HoldKind.CUSTOMER, label="dog inside", by=job.booked_by
    )
    shown = in_van.get(reverse("day"), ON).content.decode()
    for words in (
        site.street, site.customer.name, f"tel:{site.customer.phone}", "geo:40.05,-82.95",
        "Gate code 4471.", "One dog, friendly.", "EL-26-0317", "Inspector Hale", "Lee Okafor",
        "(dog inside)", f'data-copy="{site.address}"', "10 a.m. – noon",
        "8 a.m. – 9 a.m.", reverse("visit", args=[visit.pk]),
    ):  # fmt: skip
        assert words in shown, words
    assert "Ivo Brandt, " not in shown  # one's own name is not a crew mate's


def test_an_empty_day_says_what_comes_next(in_van, technician, crew):
    visit = planned(crew, 8)
    shown = in_van.get(reverse("day"), {"on": "2026-11-27"}).content.decode()
    assert "No visit for you on this day" in shown
    assert reverse("visit", args=[visit.pk]) in shown
    assert next_stop(technician, after=make.MONDAY, zone=make.ZONE) is None


def test_days_are_turned_one_by_one(in_van):
    shown = in_van.get(reverse("day"), ON).content.decode()
    assert "on=2026-11-29" in shown
    assert "on=2026-12-01" in shown
    assert in_van.get(reverse("day"), {"on": "not a day"}).status_code == 200


def test_praise_not_read_yet_is_told(in_van, technician, crew):
    assert "praise" not in in_van.get(reverse("day"), ON).content.decode()
    visit = make_field.done(planned(crew, 8))
    Thanks.objects.create(
        person=technician, job=visit.job, text="Swept up after themselves.", given_at=make.NOW
    )
    shown = in_van.get(reverse("day"), ON).content.decode()
    assert reverse("thanks") in shown


def test_the_office_looks_at_anyones_day_and_a_technician_only_at_their_own(
    in_van, at_desk, technician, crew
):
    visit = planned(crew, 8)
    other = make.person("Rae Vance")
    asked = {**ON, "person": str(technician.pk)}
    assert visit.job.site.street in at_desk.get(reverse("day"), asked).content.decode()
    assert in_van.get(reverse("day"), asked).status_code == 200
    assert in_van.get(reverse("day"), {"person": str(other.pk)}).status_code == 404


def test_what_is_under_way_or_done_says_since_when(in_van, crew):
    visit = planned(crew, 8)
    field.arrive(visit=visit, by=make_field.worker(visit), now=make.at(8, 4))
    assert "On site since 8:04 a.m." in in_van.get(reverse("day"), ON).content.decode()
    field.leave(visit=visit, by=make_field.worker(visit), now=make.at(9, 10))
    assert "Done, left 9:10 a.m." in in_van.get(reverse("day"), ON).content.decode()


def test_a_full_day_asks_the_database_no_more_than_one_visit(in_van, crew):
    def asked() -> int:
        with CaptureQueriesContext(
            connection,
        ) as found:
            assert in_van.get(reverse("day"), ON).status_code == 200
        return len(found)

    planned(crew, 8)
    asked()  # what is remembered from the first page on
    one = asked()
    for hour in (10, 12, 14):
        visit = planned(crew, hour)
        office_services.add_hold(
            visit=visit, kind=HoldKind.MATERIAL, label="breaker", by=visit.job.booked_by
        )
    assert asked() == one
    assert one < 20, one
