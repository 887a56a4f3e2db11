"""Arriving and leaving: on the day, by the right people, and taken back without loss."""

import datetime as dt
import threading

import pytest
from django.db import connection

from contractor.errors import Invalid, Refused, Several, Stale
from jobs import services as office
from jobs.models import Visit
from jobs.planning.words import HoldKind, VisitState
from jobs.services import field
from tests.factories import field as make_field
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db
HOUR = dt.timedelta(hours=1)


@pytest.fixture
def visit() -> Visit:
    make.firm()
    return make_field.on_the_plan()


def by(visit: Visit):
    return make_field.worker(visit)


def test_i_am_here_and_i_am_leaving(visit):
    here = field.arrive(visit=visit, by=by(visit), now=visit.starts_at)
    assert (here.state, here.arrived_at) == (VisitState.UNDER_WAY, visit.starts_at)
    gone = field.leave(visit=visit, by=by(visit), now=visit.starts_at + HOUR, rev=here.rev)
    assert (gone.state, gone.left_at) == (VisitState.DONE, visit.starts_at + HOUR)


def test_pressed_twice_it_is_said_once(visit):
    first = field.arrive(visit=visit, by=by(visit), now=visit.starts_at)
    again = field.arrive(visit=visit, by=by(visit), now=visit.starts_at + HOUR, rev=visit.rev)
    assert (again.arrived_at, again.rev) == (visit.starts_at, first.rev)
    left = field.leave(visit=visit, by=by(visit), now=visit.starts_at + HOUR)
    again = field.leave(visit=visit, by=by(visit), now=visit.starts_at + 2 * HOUR, rev=1)
    assert (again.left_at, again.rev) == (left.left_at, left.rev)


def test_each_is_taken_back(visit):
    field.arrive(visit=visit, by=by(visit), now=visit.starts_at)
    field.leave(visit=visit, by=by(visit), now=visit.starts_at + HOUR)
    back = field.take_back_leaving(visit=visit, by=by(visit))
    assert (back.state, back.left_at) == (VisitState.UNDER_WAY, None)
    assert back.arrived_at == visit.starts_at
    back = field.take_back_arrival(visit=visit, by=by(visit))
    assert (back.state, back.arrived_at) == (VisitState.PLANNED, None)


def test_leaving_before_arriving_is_refused(visit):
    with pytest.raises(Refused) as refused:
        field.leave(visit=visit, by=by(visit), now=visit.starts_at)
    assert refused.value.code == "not_arrived"


def test_next_weeks_visit_cannot_be_begun_by_a_slip_of_the_thumb(visit):
    with pytest.raises(Refused) as refused:
        field.arrive(visit=visit, by=by(visit), now=make.NOW)
    assert refused.value.code == "not_today"
    assert "Mon Nov. 30" in refused.value.sentence


def test_the_day_is_decided_at_the_site(visit):
    late_sunday_there = visit.starts_at.replace(hour=1)  # 1 AM at the site is 6 AM UTC
    assert field.arrive(visit=visit, by=by(visit), now=late_sunday_there).arrived_at
    field.take_back_arrival(visit=visit, by=by(visit))
    with pytest.raises(Refused):  # 11:30 PM on Sunday at the site is Monday in UTC
        field.arrive(visit=visit, by=by(visit), now=visit.starts_at - dt.timedelta(hours=8.5))


def test_what_the_visit_waits_for_is_named_each_and_nothing_is_written(visit):
    for kind in (HoldKind.MATERIAL, HoldKind.UTILITY):
        office.add_hold(visit=visit, kind=kind, label=f"the {kind}", by=visit.job.booked_by)
    with pytest.raises(Several) as refused:
        field.arrive(visit=visit, by=by(visit), now=visit.starts_at)
    assert [reason.code for reason in refused.value.reasons] == ["hold", "hold"]
    assert "material (the material)" in refused.value.sentence
    visit.refresh_from_db()
    assert (visit.state, visit.arrived_at) == (VisitState.PLANNED, None)


def test_a_hold_the_office_insisted_against_does_not_stop_the_crew():
    make.firm()
    job = make.job(of="Service call")
    found = make.visit("Service call", of=job)
    office.add_hold(visit=found, kind=HoldKind.MATERIAL, label="breaker", by=job.booked_by)
    crew = make.crew(make_field.technician())
    planned = office.assign_crew(
        visit=found, crew=crew, starts_at=make.at(8), by=job.booked_by, now=make.NOW,
        overrides={"hold": "It comes with the van that morning."},
    )  # fmt: skip
    here = field.arrive(visit=planned, by=crew.people.get(), now=make.at(8))
    assert here.state == VisitState.UNDER_WAY


def test_someone_elses_visit_is_refused_but_a_crew_mate_and_the_office_may(visit):
    stranger = make_field.technician("Rae Vance")
    with pytest.raises(Refused) as refused:
        field.arrive(visit=visit, by=stranger, now=visit.starts_at)
    assert refused.value.code == "not_yours"
    mate = make_field.technician("Cy Abara")
    visit.crew.people.add(mate)
    assert field.arrive(visit=visit, by=mate, now=visit.starts_at).arrived_at
    assert field.leave(visit=visit, by=make.coordinator(), now=visit.starts_at + HOUR).left_at


def test_an_edit_based_on_an_older_revision_is_told(visit):
    office.promise_arrival(
        visit=visit, by=visit.job.booked_by, now=make.NOW, promised_from=make.at(8),
        promised_until=make.at(10),
    )  # fmt: skip
    with pytest.raises(Stale):
        field.arrive(visit=visit, by=by(visit), now=visit.starts_at, rev=visit.rev)


def test_leaving_lets_the_inspection_fall_due_and_taking_it_back_undoes_that():
    make.firm()
    visit = make_field.under_way(of="Vehicle supply equipment", name="Survey")
    inspection = office.add_inspection(
        job=visit.job, name="Rough-in", by=visit.job.booked_by, after=visit, due_days=3
    )
    field.leave(visit=visit, by=by(visit), now=visit.starts_at + HOUR)
    inspection.refresh_from_db()
    assert inspection.due_on is not None
    field.take_back_leaving(visit=visit, by=by(visit))
    inspection.refresh_from_db()
    assert inspection.due_on is None


def test_who_leaves_early_is_free_and_cannot_come_back_once_sent_elsewhere(visit):
    person = by(visit)
    field.arrive(visit=visit, by=person, now=visit.starts_at)
    field.leave(visit=visit, by=person, now=visit.starts_at + HOUR / 2)
    other = make.planned(
        "Service call", of=make.job(of="Service call"), by_crew=make.crew(person),
        starts_at=visit.starts_at + HOUR,
    )  # fmt: skip
    assert other.starts_at < visit.ends_at
    with pytest.raises(Refused) as refused:
        field.take_back_leaving(visit=visit, by=person)
    assert refused.value.code == "sent_elsewhere"
    visit.refresh_from_db()
    assert visit.state == VisitState.DONE


def test_a_forgotten_visit_is_written_down_as_it_was(visit):
    when = {"arrived_at": visit.starts_at, "left_at": visit.starts_at + HOUR}
    late = visit.starts_at + dt.timedelta(days=1)
    told = field.correct_times(visit=visit, by=by(visit), now=late, **when)
    assert (told.state, told.arrived_at, told.left_at) == (VisitState.DONE, *when.values())
    still = field.correct_times(
        visit=visit, by=by(visit), now=late, arrived_at=visit.starts_at + HOUR, left_at=None
    )
    assert (still.state, still.left_at) == (VisitState.UNDER_WAY, None)


@pytest.mark.parametrize(
    ("arrived", "left", "at_field"),
    [(0, -1, "left_at"), (48, None, "arrived_at"), (0, 48, "left_at")],
)
def test_times_that_cannot_be_are_refused_at_their_field(visit, arrived, left, at_field):
    with pytest.raises(Invalid) as refused:
        field.correct_times(
            visit=visit, by=by(visit), now=visit.starts_at + 2 * HOUR,
            arrived_at=visit.starts_at + arrived * HOUR,
            left_at=None if left is None else visit.starts_at + left * HOUR,
        )  # fmt: skip
    assert list(refused.value.fields) == [at_field]
    visit.refresh_from_db()
    assert visit.state == VisitState.PLANNED


def test_times_of_a_visit_nobody_planned_are_refused():
    visit = make.visit("Service call", of=make.job(of="Service call"))
    with pytest.raises(Refused) as refused:
        field.correct_times(
            visit=visit, by=make.owner(), now=make.at(9), arrived_at=make.at(8), left_at=None
        )
    assert refused.value.code == "wrong_state"


def test_notes_are_kept_and_a_stale_edit_loses_nothing(visit):
    person = by(visit)
    first = field.note(visit=visit, text="Meter base loose.", by=person)
    with pytest.raises(Stale):
        field.note(visit=visit, text="Something else.", by=person, rev=visit.rev)
    assert field.note(visit=visit, text="Meter base loose.", by=person, rev=1).rev == first.rev


def test_a_closed_or_cancelled_job_is_left_as_it_is(visit):
    office.cancel_job(job=visit.job, because="sold", by=visit.job.booked_by, now=make.NOW)
    with pytest.raises(Refused) as refused:
        field.note(visit=visit, text="late", by=visit.job.booked_by)
    assert refused.value.code == "job_cancelled"


@pytest.mark.django_db(transaction=True)
def test_two_phones_pressing_at_once_write_one_arrival(visit):
    person, told = by(visit), []

    def press(minute: int) -> None:
        try:
            now = visit.starts_at + dt.timedelta(minutes=minute)
            told.append(field.arrive(visit=visit, by=person, now=now).arrived_at)
        finally:
            connection.close()

    threads = [threading.Thread(target=press, args=[minute]) for minute in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(told) == 4
    assert len(set(told)) == 1
