"""The week as crews and days, and what is not planned yet."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from jobs import queries
from tests.factories import contractor as firm_rows
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db

TODAY = make.NOW.date()


def test_each_visit_stands_in_its_crews_row_on_its_day(office, crew):
    visit = make.planned(by_crew=crew)
    idle = make.crew(name="Mill crew")
    week = queries.week(office, on=make.MONDAY + dt.timedelta(days=3), today=TODAY)
    assert (week.first, week.last) == (make.MONDAY, dt.date(2026, 12, 4))
    assert week.crews == [idle, crew]
    monday = week.days[0]
    assert [cell.visits for cell in monday.cells] == [[], [visit]]
    assert all(day.is_empty for day in week.days[1:])


def test_a_saturday_with_work_is_shown_and_one_without_is_not(office, crew):
    saturday = make.MONDAY + dt.timedelta(days=5)
    assert len(queries.week(office, on=make.MONDAY, today=TODAY).days) == 5
    make.planned(by_crew=crew, starts_at=make.at(9, day=saturday), overrides={"workday": "fair"})
    days = queries.week(office, on=make.MONDAY, today=TODAY).days
    assert (len(days), days[-1].day, days[-1].is_workday) == (6, saturday, False)


def test_who_is_away_stands_on_the_day(at_desk, crew, technician):
    firm_rows.AbsenceFactory(person=technician, first_day=make.MONDAY, last_day=make.MONDAY)
    shown = at_desk.get(reverse("week"), {"from": make.MONDAY.isoformat()}).content.decode()
    assert shown.count("away: Ivo Brandt (vacation)") == 1


def test_the_day_is_the_day_at_the_site(office, crew):
    site = make.site(time_zone="Pacific/Honolulu")
    late = make.at(20).replace(tzinfo=site.zone)
    visit = make.planned(
        of=make.job(at_site=site), by_crew=crew, starts_at=late, overrides={"hours": "they asked"}
    )
    monday = queries.week(office, on=make.MONDAY, today=TODAY).days[0]
    assert [cell.visits for cell in monday.cells if cell.crew == crew] == [[visit]]


def test_what_is_not_planned_says_why(at_desk, crew):
    job = make.job()
    shown = at_desk.get(reverse("week")).content.decode()
    assert "Nothing stands in its way." in shown
    assert "Rough-in" not in shown  # only the next visit of each job
    make.planned("Survey", of=job, by_crew=crew)
    assert (
        "Waits for permit and material (subpanel and feeder)."
        in at_desk.get(reverse("week")).content.decode()
    )
    later = at_desk.get(reverse("week"), {"later": "1"}).content.decode()
    assert "Comes after Rough-in and Cut-over, not planned yet." in later


def test_what_can_be_planned_comes_before_what_waits(office):
    held, free = make.job(), make.job()
    held.visits.filter(name="Survey").delete()
    rows = list(queries.unplanned(later=False))
    assert [row.job for row in rows] == [free, held]


def test_cancelled_jobs_wait_for_nothing(office):
    job = make.job()
    job.__class__.objects.update(state="cancelled")
    assert not queries.unplanned().exists()


def test_a_planned_visit_that_is_held_is_marked(at_desk, crew):
    visit = make.planned("Rough-in", by_crew=crew)
    visit.holds.filter(kind="material").update(released_at=None, released_by=None)
    shown = at_desk.get(reverse("week"), {"from": make.MONDAY.isoformat()}).content.decode()
    assert "waits for material (subpanel and feeder)" in shown


def test_a_technician_sees_their_own_crew_and_no_waiting_list(in_van, crew):
    mine, other = make.planned(by_crew=crew), make.planned()
    shown = in_van.get(reverse("week"), {"from": make.MONDAY.isoformat()}).content.decode()
    assert f"{mine.job.number} Survey" in shown
    assert str(other.job.number) not in shown
    assert "Not planned yet" not in shown


def test_nonsense_as_a_day_means_this_week(at_desk, crew):
    for day in ("x", "2026-13-40", ""):
        assert at_desk.get(reverse("week"), {"from": day}).status_code == 200


def test_the_week_asks_the_database_equally_often_for_few_and_many_visits(at_desk, crew):
    url = f"{reverse('week')}?from={make.MONDAY}"

    def asked() -> int:
        at_desk.get(url)
        with CaptureQueriesContext(connection) as taken:
            at_desk.get(url)
        return len(taken)

    make.planned(by_crew=crew)
    make.job()
    few = asked()
    for _ in range(4):
        make.planned()
        make.job()
    assert asked() == few <= 16
