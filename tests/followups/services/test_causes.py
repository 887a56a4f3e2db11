"""Closing a job and owing its mails is one deed: both happen, or neither."""

from __future__ import annotations

import datetime as dt

import pytest
from django.test import Client
from django.utils.translation import override

from followups.cadence.words import Kind, State
from followups.models import Callback, Message
from followups.services import callbacks
from followups.services.sweep import send_due
from jobs.models import CloseOut
from jobs.services.close_out import reopen_job
from tests.factories import field
from tests.factories import followups as made
from tests.factories import jobs as planned
from tests.mailbox import Mailbox

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _firm(settings, tmp_path) -> None:
    settings.MEDIA_ROOT = tmp_path
    planned.firm()


def fails(**_facts: object) -> None:
    raise RuntimeError("the room above broke")


def test_close_out_owes_the_panel_page_now_and_the_check_in_a_week_later(smtp: Mailbox) -> None:
    visit = field.ready()
    closed = field.close(visit)
    now = closed.closed_at
    panel_page = made.message(closed.job, Kind.WALK_THROUGH)
    check_in = made.message(closed.job)
    assert panel_page.not_before == now
    assert (check_in.not_before - now).days in (6, 7)
    assert check_in.not_before.astimezone(made.ZONE).time() == dt.time(10)
    assert send_due(clock=lambda: now) >= 1
    mail = next(mail for mail in smtp.messages if mail["Message-ID"] == panel_page.message_id)
    words = mail.get_body(("plain",)).get_content()
    address = next(word for word in words.split() if "/home/" in word)
    assert "licensed" in words
    assert "911" in words
    answer = Client().get(address[address.index("/home/") :])
    assert answer.status_code == 200
    assert "Kitchen counter" in answer.content.decode()


def test_when_the_mails_cannot_be_owed_the_job_is_not_closed(settings) -> None:
    settings.AFTER_CLOSE_OUT = [*settings.AFTER_CLOSE_OUT, f"{__name__}.fails"]
    visit = field.ready()
    with pytest.raises(RuntimeError):
        field.close(visit)
    visit.job.refresh_from_db()
    assert visit.job.state == "open"
    assert not CloseOut.objects.exists()
    assert not Message.objects.filter(kind=Kind.CHECK_IN).exists()


def test_opened_again_the_check_in_is_taken_back() -> None:
    closed = field.close(field.ready())
    reopen_job(
        job=closed.job, because="a label is wrong", by=planned.coordinator(), now=closed.closed_at
    )
    assert made.message(closed.job).state == State.SKIPPED


def test_a_home_without_a_panel_on_record_gets_no_link() -> None:
    job = made.closed_job()
    message = made.message(job, Kind.WALK_THROUGH)
    assert message.link is None
    assert "/home/" not in message.body_text


def test_the_list_says_when_the_callback_job_is_done(client: Client) -> None:
    office = planned.coordinator()
    callback = callbacks.open_callback(
        job=made.closed_job(), what="It hums.", by=office, now=made.WEEK_LATER
    )
    callback = callbacks.book_visit(callback=callback, title="", by=office, now=made.WEEK_LATER)
    job = callback.booked_as
    job.state, job.closed_at, job.closed_by = "closed", made.WEEK_LATER, office
    job.save()
    client.force_login(office, backend="django.contrib.auth.backends.ModelBackend")
    assert "done: close it" in client.get("/callbacks/").content.decode()
    assert Callback.objects.get().state == "booked"  # a person says what was done


def test_the_words_are_in_the_firms_language_whoever_is_looking() -> None:
    with override("es"):
        message = made.message(made.closed_job())
    assert message.subject.startswith("Is all well?")
