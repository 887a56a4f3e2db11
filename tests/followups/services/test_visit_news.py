"""The customer hears when we come, once, and again only when it changes for them."""

from __future__ import annotations

import datetime as dt

import pytest

from followups.cadence.words import Kind, State
from followups.models import Message
from followups.services import causes, visit_news
from followups.services.sweep import send_due
from jobs import services as jobs
from jobs.models import Job, Visit
from tests.factories import followups as made
from tests.factories import jobs as planned
from tests.mailbox import Mailbox

pytestmark = pytest.mark.django_db

SOON = planned.NOW + dt.timedelta(minutes=30)


@pytest.fixture(autouse=True)
def _firm() -> None:
    planned.firm()


def send(at: dt.datetime = SOON) -> int:
    return send_due(clock=lambda: at)


def news(visit: Visit) -> list[tuple[str, str]]:
    rows = Message.objects.filter(job=visit.job).order_by("written_at", "dedup_key")
    return [(row.kind, row.state) for row in rows]


def move(visit: Visit, hour: int) -> Visit:
    return jobs.assign_crew(
        visit=visit,
        crew=visit.crew,
        starts_at=planned.at(hour),
        by=visit.job.booked_by,
        now=planned.NOW,
    )


def test_a_planned_visit_is_confirmed_after_ten_minutes(smtp: Mailbox) -> None:
    visit = planned.planned()
    assert news(visit) == [(Kind.CONFIRMATION, State.DUE)]
    assert send(planned.NOW + dt.timedelta(minutes=9)) == 0
    assert send() == 1
    assert "Monday, November 30, about 8 a.m." in smtp.messages[0]["Subject"]


def test_shuffling_the_plan_sends_one_mail_about_the_last_time(smtp: Mailbox) -> None:
    visit = planned.planned()
    for hour in (10, 13, 9):
        visit = move(visit, hour)
    assert send() == 1
    assert "9 a.m." in smtp.messages[0]["Subject"]
    states = [state for _kind, state in news(visit)]
    assert sorted(states) == [State.SENT, State.SKIPPED, State.SKIPPED, State.SKIPPED]


def test_a_change_after_they_were_told_names_the_old_time(smtp: Mailbox) -> None:
    visit = planned.planned()
    send()
    move(visit, 13)
    assert send() == 1
    mail = smtp.messages[1]
    assert mail["Subject"].startswith("New time")
    text = mail.get_body(("plain",)).get_content()
    assert "Instead of Monday, November 30, about 8 a.m." in text
    assert "Monday, November 30, about 1 p.m." in text


def test_moved_away_and_back_before_anything_left_tells_nothing(smtp: Mailbox) -> None:
    visit = planned.planned()
    send()
    move(move(visit, 13), 8)
    assert send() == 0


def test_the_same_time_with_another_crew_is_no_news(smtp: Mailbox) -> None:
    visit = planned.planned()
    send()
    other = planned.crew()
    jobs.assign_crew(
        visit=visit, crew=other, starts_at=visit.starts_at, by=visit.job.booked_by, now=planned.NOW
    )
    assert news(visit) == [(Kind.CONFIRMATION, State.SENT)]


def test_within_the_promised_arrival_the_promise_is_what_they_hear(smtp: Mailbox) -> None:
    visit = planned.visit()
    visit = jobs.promise_arrival(
        visit=visit,
        by=visit.job.booked_by,
        now=planned.NOW,
        promised_from=planned.at(8),
        promised_until=planned.at(12),
    )
    visit = planned.planned(of=visit.job, starts_at=planned.at(9))
    send()
    assert "between 8 a.m. and noon" in smtp.messages[0]["Subject"]
    move(visit, 11)
    assert send() == 0  # still within the promise


def test_taken_off_the_plan_they_hear_it_and_planned_again_a_new_time(smtp: Mailbox) -> None:
    visit = planned.planned()
    send()
    visit = jobs.unassign(visit=visit, by=visit.job.booked_by, now=planned.NOW)
    assert send() == 1
    assert smtp.messages[1]["Subject"].startswith("We are not coming")
    planned.planned(of=visit.job, starts_at=planned.at(13))
    assert send() == 1
    assert "1 p.m." in smtp.messages[2]["Subject"]


def test_taken_off_before_they_were_told_says_nothing(smtp: Mailbox) -> None:
    visit = planned.planned()
    jobs.unassign(visit=visit, by=visit.job.booked_by, now=planned.NOW)
    assert send() == 0
    assert news(visit) == [(Kind.CONFIRMATION, State.SKIPPED)]


def test_undone_at_once_nobody_hears_anything(smtp: Mailbox) -> None:
    visit = planned.planned()
    send()
    plan = jobs.plan_of(visit)
    visit = jobs.unassign(visit=visit, by=visit.job.booked_by, now=planned.NOW)
    jobs.restore_plan(visit=visit, plan=plan, by=visit.job.booked_by, now=planned.NOW)
    assert send() == 0


def test_a_cancelled_job_sends_one_mail_with_every_visit_they_reckon_with(smtp: Mailbox) -> None:
    job = planned.job()
    planned.planned("Survey", of=job)
    planned.planned("Rough-in", of=job, starts_at=planned.at(8, day=dt.date(2026, 12, 1)))
    assert send() == 2
    jobs.cancel_job(job=job, because="sold the house", by=job.booked_by, now=planned.NOW)
    assert send() == 1
    text = smtp.messages[2].get_body(("plain",)).get_content()
    assert "November 30" in text
    assert "December 1" in text
    assert "The job is cancelled" in text


def test_a_visit_in_the_past_is_not_announced() -> None:
    visit = planned.planned()
    Message.objects.all().delete()
    assert visit_news.tell_planned(visit=visit, now=visit.starts_at) is None


def test_no_address_is_said_to_the_office_not_swallowed(smtp: Mailbox) -> None:
    site = planned.site(customer__email="")
    visit = planned.planned(of=planned.job(at_site=site))
    assert send() == 0
    message = visit.messages.get()
    assert message.state == State.SKIPPED
    assert "Call them" in message.why


def test_a_move_planned_too_late_for_a_mail_asks_for_a_call(smtp: Mailbox) -> None:
    visit = planned.planned()
    late = planned.at(21, day=dt.date(2026, 11, 29))
    Message.objects.update(not_before=late)
    assert send(late) == 0
    message = visit.messages.get()
    assert message.state == State.EXPIRED
    assert "Call them" in message.why


def test_reopening_takes_the_check_in_back_and_closing_again_owes_a_new_one() -> None:
    job = made.closed_job()
    first = made.message(job)
    Job.objects.filter(pk=job.pk).update(state="open", closed_at=None, closed_by=None)
    causes.after_reopen(job=job, by=job.booked_by, now=made.CLOSED_AT)
    first.refresh_from_db()
    assert first.state == State.SKIPPED
    causes.after_close_out(
        job=job, visit=None, by=job.booked_by, now=made.CLOSED_AT + dt.timedelta(hours=1)
    )
    assert job.messages.filter(kind=Kind.CHECK_IN, state=State.DUE).count() == 1
