"""The clock's part: a real worker sends what is due, and a lost broker loses nothing."""

from __future__ import annotations

import datetime as dt

import pytest
from django.core.management import call_command

from contractor.celery import app
from contractor.health import SWEEP, age
from followups.cadence.words import State
from followups.models import Message
from tests.factories import followups as made
from tests.factories import jobs as planned
from tests.mailbox import Mailbox

SWEEP_TASK = "followups.tasks.sweep"


@pytest.fixture(autouse=True)
def _firm(transactional_db: None) -> None:
    planned.firm()


def test_a_worker_sends_the_check_in_when_its_time_comes(celery_worker, smtp: Mailbox) -> None:
    check_in = made.message(made.closed_job())
    before = celery_worker(at=made.WEEK_LATER - dt.timedelta(minutes=10))
    before.run(SWEEP_TASK)
    assert check_in.message_id not in {mail["Message-ID"] for mail in smtp.messages}
    after = celery_worker(at=made.WEEK_LATER + dt.timedelta(minutes=1))
    before.child.stop()
    after.run(SWEEP_TASK)
    assert [mail["Message-ID"] for mail in smtp.messages].count(check_in.message_id) == 1
    assert age(SWEEP) is not None


def test_a_broker_that_forgets_everything_loses_nothing(celery_worker, smtp: Mailbox) -> None:
    letters = [made.letter() for _number in range(5)]
    for _number in range(3):
        app.send_task(SWEEP_TASK)
    with app.connection_for_write() as broker:
        broker.default_channel.client.flushall()
    celery_worker().run(SWEEP_TASK)  # the next tick of the clock
    assert sorted(mail["Message-ID"] for mail in smtp.messages) == sorted(
        letter.message_id for letter in letters
    )
    assert set(Message.objects.values_list("state", flat=True)) == {State.SENT}


def test_it_works_without_any_worker(smtp: Mailbox, capsys) -> None:
    made.letter()
    call_command("send_due")
    assert capsys.readouterr().out == "1 handed to the mail server\n"
    call_command("send_due")
    assert capsys.readouterr().out == "0 handed to the mail server\n"


def test_holding_and_releasing_by_command(smtp: Mailbox, capsys) -> None:
    made.letter()
    call_command("hold_messages")
    assert "1 held back" in capsys.readouterr().out
    call_command("send_due")
    assert not smtp.messages
    call_command("release_held")
    call_command("send_due")
    assert len(smtp.messages) == 1
