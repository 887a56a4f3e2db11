"""What is due goes out once, as written, at a decent hour, or someone sees why not."""

from __future__ import annotations

import datetime as dt
import threading

import pytest
from django.db import connection, transaction

from contractor.models import Customer
from followups.cadence.words import Kind, State
from followups.models import Message, OptOut
from followups.queries import timing
from followups.senders import Fate, Sent
from followups.services import check_ins, decisions, letters, opting_out, outbox, owing
from followups.services.sweep import send_due
from jobs.models import Job
from jobs.planning.words import JobState
from tests.factories import followups as made
from tests.factories import jobs as planned
from tests.mailbox import Mailbox

pytestmark = pytest.mark.django_db

NIGHT = dt.datetime(2026, 12, 7, 22, 0, tzinfo=made.ZONE)
MINUTE = dt.timedelta(minutes=1)


@pytest.fixture(autouse=True)
def _firm() -> None:
    planned.firm()


def at(moment: dt.datetime):  # type: ignore[no-untyped-def]
    return lambda: moment


def test_the_check_in_goes_out_a_week_after_close_out_as_it_was_written(smtp: Mailbox) -> None:
    job = made.closed_job()
    check_in = made.message(job)
    assert check_in.not_before == made.WEEK_LATER
    send_due(clock=at(made.CLOSED_AT))  # the walk-through goes at once
    assert send_due(clock=at(made.WEEK_LATER - MINUTE)) == 0
    assert send_due(clock=at(made.WEEK_LATER)) == 1
    mail = smtp.messages[-1]
    assert smtp.recipients[-1] == [job.site.customer.email]
    assert mail["Message-ID"] == check_in.message_id
    assert mail["Subject"] == check_in.subject
    text, html = (mail.get_body((kind,)) for kind in ("plain", "html"))
    assert text.get_content().replace("\r\n", "\n") == check_in.body_text
    assert html.get_content().replace("\r\n", "\n") == check_in.body_html
    assert mail["List-Unsubscribe-Post"] == "List-Unsubscribe=One-Click"
    check_in.refresh_from_db()
    assert (check_in.state, check_in.sent_at) == (State.SENT, made.WEEK_LATER)
    assert send_due(clock=at(made.WEEK_LATER + MINUTE)) == 0  # sent is final


def test_a_check_in_carries_the_firms_address_and_a_way_to_stop(smtp: Mailbox) -> None:
    check_in = made.message(made.closed_job())
    for body in (check_in.body_text, check_in.body_html):
        assert "12 Mill Race" in body
        assert "/stop/" in body
    confirmation = made.message(made.closed_job(), Kind.CONFIRMATION)
    assert "/stop/" not in confirmation.body_text


def test_the_same_thing_is_never_owed_twice() -> None:
    job = made.closed_job()
    before = Message.objects.filter(job=job).count()

    check_ins.owe_after_close_out(job=job, now=made.CLOSED_AT)
    assert Message.objects.filter(job=job).count() == before


def test_a_message_lives_and_dies_with_its_cause() -> None:
    job = planned.job()

    class CauseFailed(Exception):
        pass

    def close() -> None:
        with transaction.atomic():
            check_ins.owe_after_close_out(job=job, now=made.CLOSED_AT)
            raise CauseFailed

    with pytest.raises(CauseFailed):
        close()
    assert not Message.objects.filter(job=job, kind=Kind.CHECK_IN).exists()


def test_quiet_hours_put_it_off_to_the_morning_there(smtp: Mailbox) -> None:
    site = planned.site(time_zone="America/Los_Angeles")
    check_in = made.message(made.closed_job(at_site=site))
    Message.objects.exclude(pk=check_in.pk).delete()
    Message.objects.filter(pk=check_in.pk).update(not_before=NIGHT)
    eight_in_the_evening_there = NIGHT + dt.timedelta(hours=1)  # 20:00 in California, just shut
    assert send_due(clock=at(eight_in_the_evening_there)) == 0
    check_in.refresh_from_db()
    assert check_in.state == State.DUE
    assert check_in.not_before == dt.datetime(2026, 12, 8, 9, 0, tzinfo=site.zone)
    assert send_due(clock=at(check_in.not_before)) == 1


@pytest.mark.parametrize("how", ["stop", "cancel", "reopen", "no_address", "too_late"])
def test_what_is_no_longer_wanted_is_skipped_with_a_reason(how: str, smtp: Mailbox) -> None:
    check_in = made.message(made.closed_job())
    Message.objects.exclude(pk=check_in.pk).delete()
    now = made.WEEK_LATER
    if how == "stop":
        OptOut.objects.create(
            address_hash=timing.address_hash(check_in.to.upper()), at=made.CLOSED_AT
        )
    elif how == "cancel":
        Job.objects.filter(pk=check_in.job_id).update(
            state=JobState.CANCELLED, closed_at=None, closed_by=None
        )
    elif how == "reopen":
        Job.objects.filter(pk=check_in.job_id).update(
            state=JobState.OPEN, closed_at=None, closed_by=None
        )
    elif how == "no_address":
        Customer.objects.filter(pk=check_in.customer_id).update(email="")
    else:
        now += dt.timedelta(days=40)
    assert send_due(clock=at(now)) == 0
    assert not smtp.messages
    check_in.refresh_from_db()
    assert check_in.state == (State.EXPIRED if how == "too_late" else State.SKIPPED)
    assert check_in.why


def test_a_corrected_address_serves_messages_already_written(smtp: Mailbox) -> None:
    check_in = made.message(made.closed_job())
    Customer.objects.filter(pk=check_in.customer_id).update(email="new@mail.example")
    send_due(clock=at(made.WEEK_LATER))
    assert smtp.recipients[-1] == ["new@mail.example"]


def test_a_passing_fault_is_tried_again_and_then_told(smtp: Mailbox) -> None:
    message = made.letter(due=made.WEEK_LATER)
    smtp.answer = "451 4.3.0 try again later"
    now = made.WEEK_LATER
    for tries in range(1, 8):
        assert send_due(clock=at(now)) == 1
        message.refresh_from_db()
        assert (message.state, message.attempts) == (State.DUE, tries)
        assert "try again later" in message.why
        assert send_due(clock=at(now)) == 0  # not before its time
        now = message.not_before
    send_due(clock=at(now))
    message.refresh_from_db()
    assert message.state == State.FAILED
    assert not smtp.messages


def test_after_a_passing_fault_it_arrives_once_with_the_same_words(smtp: Mailbox) -> None:
    message = made.letter(due=made.WEEK_LATER)
    smtp.answer = "451 busy"
    send_due(clock=at(made.WEEK_LATER))
    smtp.answer = ""
    send_due(clock=at(made.WEEK_LATER + MINUTE))
    assert [mail["Message-ID"] for mail in smtp.messages] == [message.message_id]


def test_a_final_refusal_is_told_at_once(smtp: Mailbox) -> None:
    message = made.letter(due=made.WEEK_LATER)
    smtp.answer = "550 5.1.1 no such person"
    send_due(clock=at(made.WEEK_LATER))
    message.refresh_from_db()
    assert message.state == State.FAILED
    assert "no such person" in message.why


def test_a_mail_server_that_is_away_costs_nothing(smtp: Mailbox, settings) -> None:
    message = made.letter(due=made.WEEK_LATER)
    settings.EMAIL_PORT = 1  # nobody listens there
    send_due(clock=at(made.WEEK_LATER))
    message.refresh_from_db()
    assert message.state == State.DUE
    settings.EMAIL_PORT = smtp.port
    send_due(clock=at(message.not_before))
    assert len(smtp.messages) == 1


def test_one_unreadable_message_does_not_stop_the_rest(smtp: Mailbox) -> None:
    broken, good = made.letter(due=made.WEEK_LATER), made.letter(due=made.WEEK_LATER)
    Message.objects.filter(pk=broken.pk).update(
        time_zone="Nowhere/Land", not_before=made.WEEK_LATER - MINUTE, kind=Kind.THANKS
    )
    send_due(clock=at(made.WEEK_LATER))
    broken.refresh_from_db()
    good.refresh_from_db()
    assert broken.state == State.FAILED
    assert good.state == State.SENT


def test_a_lease_that_ran_out_after_handing_over_is_unsure_and_never_sent_blindly(
    smtp: Mailbox,
) -> None:
    made.letter(due=made.WEEK_LATER)
    (claimed,) = outbox.claim(now=made.WEEK_LATER, owner="one that dies")
    assert outbox.hand_over(claimed, now=made.WEEK_LATER)
    later = made.WEEK_LATER + outbox.LEASE
    assert send_due(clock=at(later)) == 0
    claimed.refresh_from_db()
    assert claimed.state == State.UNSURE
    assert send_due(clock=at(later + dt.timedelta(days=1))) == 0
    assert not smtp.messages


def test_a_lease_that_ran_out_before_handing_over_is_due_again(smtp: Mailbox) -> None:
    made.letter(due=made.WEEK_LATER)
    (claimed,) = outbox.claim(now=made.WEEK_LATER, owner="one that dies")
    later = made.WEEK_LATER + outbox.LEASE
    assert send_due(clock=at(later)) == 1
    assert not outbox.hand_over(claimed, now=later)  # the sleeper wakes: it may not send
    assert len(smtp.messages) == 1


def test_a_message_that_stops_the_program_every_time_is_given_up(smtp: Mailbox) -> None:
    message = made.letter(due=made.WEEK_LATER)
    now = made.WEEK_LATER
    for _death in range(8):
        outbox.claim(now=now, owner="one that dies")
        now += outbox.LEASE
        outbox.find_abandoned(now=now)
    message.refresh_from_db()
    assert message.state == State.FAILED


def test_an_answer_that_comes_late_still_decides_an_unsure_message() -> None:
    made.letter(due=made.WEEK_LATER)
    (claimed,) = outbox.claim(now=made.WEEK_LATER, owner="slow")
    outbox.hand_over(claimed, now=made.WEEK_LATER)
    later = made.WEEK_LATER + outbox.LEASE
    outbox.find_abandoned(now=later)
    outbox.settle(claimed, sent=Sent(Fate.TAKEN), now=later + MINUTE)
    claimed.refresh_from_db()
    assert claimed.state == State.SENT


def test_an_answer_after_a_person_decided_is_noted_and_changes_nothing_else() -> None:
    office = planned.coordinator()
    made.letter(due=made.WEEK_LATER)
    (claimed,) = outbox.claim(now=made.WEEK_LATER, owner="slow")
    outbox.hand_over(claimed, now=made.WEEK_LATER)
    later = made.WEEK_LATER + outbox.LEASE
    outbox.find_abandoned(now=later)
    decisions.send_now(message=claimed, by=office, now=later)
    outbox.claim(now=later, owner="another")
    outbox.settle(claimed, sent=Sent(Fate.TAKEN), now=later)
    row = Message.objects.get(pk=claimed.pk)
    assert row.state == State.SENDING
    assert "twice" in row.why


def test_held_after_a_restore_nothing_goes_out_until_released(smtp: Mailbox) -> None:
    due, under_way = made.letter(due=made.WEEK_LATER), made.letter(due=made.WEEK_LATER)
    outbox.claim(now=made.WEEK_LATER, owner="before the backup")
    assert outbox.hold_all() == 1
    assert send_due(clock=at(made.WEEK_LATER + dt.timedelta(days=1))) == 0
    assert {row.state for row in (due, under_way) if row.refresh_from_db() is None} == {
        State.HELD,
        State.UNSURE,
    }
    assert outbox.release_all() == 1
    assert send_due(clock=at(made.WEEK_LATER + dt.timedelta(days=1, minutes=1))) == 1


def test_the_reminder_is_owed_when_the_check_in_leaves_and_once_only(smtp: Mailbox) -> None:
    job = made.closed_job()
    send_due(clock=at(made.WEEK_LATER))
    reminder = made.message(job, Kind.REMINDER)
    assert reminder.not_before == made.WEEK_LATER + dt.timedelta(days=4)
    send_due(clock=at(reminder.not_before))
    assert smtp.messages[-1]["Message-ID"] == reminder.message_id
    send_due(clock=at(reminder.not_before + dt.timedelta(days=30)))
    assert job.messages.filter(kind=Kind.REMINDER).count() == 1


def test_no_reminder_after_an_answer(smtp: Mailbox) -> None:
    job = made.closed_job()
    send_due(clock=at(made.WEEK_LATER))
    made.answered(made.message(job), "well")
    reminder = made.message(job, Kind.REMINDER)
    send_due(clock=at(reminder.not_before))
    reminder.refresh_from_db()
    assert reminder.state == State.SKIPPED


def test_none_after_an_opt_out(smtp: Mailbox) -> None:
    job = made.closed_job()
    send_due(clock=at(made.WEEK_LATER))
    opting_out.stop(message=made.message(job), now=made.WEEK_LATER)
    reminder = made.message(job, Kind.REMINDER)
    assert reminder.state == State.SKIPPED  # taken back at once
    second = made.message(made.closed_job(at_site=job.site))
    send_due(clock=at(made.WEEK_LATER))
    second.refresh_from_db()
    assert second.state == State.SKIPPED
    opting_out.resume(message=second)
    assert not OptOut.objects.exists()


def test_a_clock_that_stood_still_for_three_days_sends_the_same_set_of_messages(
    smtp: Mailbox,
) -> None:
    check_in = made.message(made.closed_job())
    Message.objects.exclude(pk=check_in.pk).delete()
    after = made.WEEK_LATER + dt.timedelta(days=3)
    assert send_due(clock=at(after)) == 1
    assert send_due(clock=at(made.WEEK_LATER)) == 0  # and if the clock is set back, nothing twice
    assert send_due(clock=at(after + dt.timedelta(days=1))) == 0
    assert len(smtp.messages) == 1


@pytest.mark.django_db(transaction=True)
def test_two_sweeps_at_once_send_each_message_once(smtp: Mailbox) -> None:
    messages = [made.letter(due=made.WEEK_LATER) for _number in range(40)]
    start = threading.Barrier(4)

    def sweep() -> None:
        try:
            start.wait()
            send_due(clock=at(made.WEEK_LATER))
        finally:
            connection.close()

    threads = [threading.Thread(target=sweep) for _number in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    arrived = [mail["Message-ID"] for mail in smtp.messages]
    assert sorted(arrived) == sorted(message.message_id for message in messages)
    assert set(Message.objects.values_list("state", flat=True)) == {State.SENT}


@pytest.mark.django_db(transaction=True)
def test_the_same_message_owed_by_two_at_once_is_one_row() -> None:
    job = planned.job()
    start = threading.Barrier(2)
    failed: list[Exception] = []

    def owe() -> None:
        try:
            start.wait()
            with transaction.atomic():
                owing.owe(
                    kind=Kind.CALLBACK,
                    subject="job-1",
                    slot="once",
                    addressee=owing.the_customer(job),
                    compose=lambda _id, firm: letters.callback_received(
                        job=job, words="It hums.", firm=firm
                    ),
                    now=made.CLOSED_AT,
                )
        except Exception as error:
            failed.append(error)
        finally:
            connection.close()

    threads = [threading.Thread(target=owe) for _number in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not failed
    assert Message.objects.filter(dedup_key="callback:job-1:once").count() == 1
