"""The office decides what nothing else can; what it may not do is refused with why."""

from __future__ import annotations

import datetime as dt

import pytest

from contractor.errors import Invalid, Refused
from contractor.models import Customer
from followups.cadence.words import Kind, State
from followups.models import Message
from followups.services import decisions
from followups.services.sweep import send_due
from tests.factories import followups as made
from tests.factories import jobs as planned
from tests.mailbox import Mailbox

pytestmark = pytest.mark.django_db
NOW = made.WEEK_LATER


@pytest.fixture(autouse=True)
def _firm() -> None:
    planned.firm()


def in_state(state: State) -> Message:
    message = made.message(made.closed_job())
    Message.objects.filter(pk=message.pk).update(state=state, attempts=8, why="because")
    message.refresh_from_db()
    return message


def test_held_back_it_waits_and_released_it_goes(smtp: Mailbox) -> None:
    office = planned.coordinator()
    message = decisions.hold(message=in_state(State.DUE), by=office)
    assert office.name in message.why
    Message.objects.exclude(pk=message.pk).delete()
    assert send_due(clock=lambda: NOW) == 0
    decisions.release(message=message, by=office)
    assert send_due(clock=lambda: NOW) == 1


@pytest.mark.parametrize("state", [State.UNSURE, State.FAILED])
def test_sent_again_it_starts_afresh(state: State, smtp: Mailbox) -> None:
    message = decisions.send_now(message=in_state(state), by=planned.coordinator(), now=NOW)
    assert (message.state, message.attempts) == (State.DUE, 0)
    Message.objects.exclude(pk=message.pk).delete()
    assert send_due(clock=lambda: NOW) == 1


def test_send_now_at_night_waits_for_the_morning() -> None:
    night = dt.datetime(2026, 12, 7, 22, 0, tzinfo=made.ZONE)
    message = decisions.send_now(message=in_state(State.DUE), by=planned.coordinator(), now=night)
    assert message.not_before == dt.datetime(2026, 12, 8, 9, 0, tzinfo=made.ZONE)


def test_what_would_not_be_sent_is_refused_with_why() -> None:
    message = in_state(State.DUE)
    Customer.objects.filter(pk=message.customer_id).update(email="")
    with pytest.raises(Refused, match="address"):
        decisions.send_now(message=message, by=planned.coordinator(), now=NOW)


def test_with_an_address_added_later_the_skipped_one_can_still_go() -> None:
    message = in_state(State.SKIPPED)
    Customer.objects.filter(pk=message.customer_id).update(email="late@mail.example")
    sent = decisions.send_now(message=message, by=planned.coordinator(), now=NOW)
    assert sent.state == State.DUE


@pytest.mark.parametrize(
    "state", [State.UNSURE, State.FAILED, State.EXPIRED, State.HELD, State.DUE, State.SKIPPED]
)
def test_they_have_it_is_kept_with_how_and_owes_the_reminder(state: State) -> None:
    office = planned.coordinator()
    message = decisions.mark_told(message=in_state(state), how="By phone", by=office, now=NOW)
    assert (message.state, message.sent_at) == (State.SENT, NOW)
    assert message.why == f"By phone ({office.name})"
    assert message.job.messages.filter(kind=Kind.REMINDER).exists()


def test_dropping_asks_for_a_reason_and_sent_is_final() -> None:
    office = planned.coordinator()
    message = in_state(State.UNSURE)
    with pytest.raises(Invalid):
        decisions.drop(message=message, why="  ", by=office)
    dropped = decisions.drop(message=message, why="spoke to her", by=office)
    assert dropped.state == State.SKIPPED
    Message.objects.filter(pk=message.pk).update(state=State.SENT, sent_at=NOW)
    for again in (decisions.hold, decisions.release):
        with pytest.raises(Refused, match="already"):
            again(message=message, by=office)
