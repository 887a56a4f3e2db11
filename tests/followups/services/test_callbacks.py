"""A callback waits, is booked, is closed with what was done, and can be opened again."""

from __future__ import annotations

import pytest

from contractor.errors import Invalid, Refused, Stale
from followups.cadence.words import CallbackState, Kind
from followups.models import Callback, Message
from followups.services import callbacks
from jobs import services as jobs
from tests.factories import followups as made
from tests.factories import jobs as planned

pytestmark = pytest.mark.django_db
NOW = made.WEEK_LATER


@pytest.fixture(autouse=True)
def _firm() -> None:
    planned.firm()


def opened() -> Callback:
    made.answered(made.sent_check_in(), "wrong", "It hums.")
    return Callback.objects.get()


def close(callback: Callback, **fields: object) -> Callback:
    words = {"resolution": "Tightened it.", "cause": "loose", "by": planned.coordinator()}
    return callbacks.close(callback=callback, now=NOW, **{**words, **fields})  # type: ignore[arg-type]


def test_booking_makes_a_job_that_points_back() -> None:
    office = planned.coordinator()
    callback = callbacks.book_visit(callback=opened(), title="", by=office, now=NOW)
    job = callback.booked_as
    assert callback.state == CallbackState.BOOKED
    assert job.callback_of == callback.job
    assert job.kind.answers_callbacks
    assert job.site == callback.job.site
    assert job.scope == "It hums."
    with pytest.raises(Refused, match="already"):
        callbacks.book_visit(callback=callback, title="", by=office, now=NOW)


def test_closing_asks_for_cause_and_what_was_done() -> None:
    callback = opened()
    with pytest.raises(Invalid) as refused:
        close(callback, resolution=" ", cause="")
    assert set(refused.value.fields) == {"resolution", "cause"}
    with pytest.raises(Invalid):
        close(callback, cause="gremlins")
    office = planned.coordinator()
    closed = close(callback, cause_text="neutral of circuit 7", by=office)
    assert (closed.state, closed.closed_by, closed.closed_at) == ("closed", office, NOW)
    assert closed.cause_text == "neutral of circuit 7"
    with pytest.raises(Refused):
        close(closed)


def test_opened_again_it_keeps_what_was_written_and_its_job() -> None:
    office = planned.coordinator()
    callback = close(callbacks.book_visit(callback=opened(), title="x", by=office, now=NOW))
    again = callbacks.reopen(callback=callback, by=office)
    assert again.state == CallbackState.BOOKED
    assert again.closed_at is None
    assert again.resolution == "Tightened it."
    plain = callbacks.open_callback(job=planned.job(), what="Buzzes.", by=office, now=NOW)
    assert callbacks.reopen(callback=close(plain), by=office).state == CallbackState.OPEN


def test_a_cancelled_callback_job_leaves_the_callback_waiting() -> None:
    office = planned.coordinator()
    callback = callbacks.book_visit(callback=opened(), title="x", by=office, now=NOW)
    jobs.cancel_job(job=callback.booked_as, because="sick", by=office, now=NOW)
    callback.refresh_from_db()
    assert (callback.state, callback.booked_as) == (CallbackState.OPEN, None)


def test_an_edit_based_on_an_older_revision_is_refused() -> None:
    office = planned.coordinator()
    callback = opened()
    noted = callbacks.note(callback=callback, by=office, rev=callback.rev, note="Try Tuesday.")
    assert noted.rev == callback.rev + 1
    with pytest.raises(Stale):
        callbacks.note(callback=callback, by=office, rev=callback.rev, cause="loose")
    noted = callbacks.note(callback=callback, by=office, rev=noted.rev, cause="loose")
    assert (noted.cause, noted.note) == ("loose", "Try Tuesday.")


def test_a_callback_written_down_in_the_office_says_by_whom_and_tells_the_customer() -> None:
    office = planned.coordinator()
    job = planned.job()
    callback = callbacks.open_callback(job=job, what="Half the house is out.", by=office, now=NOW)
    assert (callback.opened_by, callback.visit, callback.crew) == (office, None, None)
    assert Message.objects.filter(job=job, kind=Kind.CALLBACK).count() == 1
    with pytest.raises(Invalid):
        callbacks.open_callback(job=job, what=" ", by=office, now=NOW)


def test_a_closed_callback_is_opened_again_before_a_visit_is_booked() -> None:
    closed = close(opened())
    with pytest.raises(Refused, match="already"):
        callbacks.book_visit(callback=closed, title="x", by=planned.coordinator(), now=NOW)
    closed.refresh_from_db()
    assert (closed.state, closed.booked_as) == (CallbackState.CLOSED, None)


def test_opened_again_after_its_job_was_cancelled_it_waits_for_another_visit() -> None:
    office = planned.coordinator()
    callback = close(callbacks.book_visit(callback=opened(), title="x", by=office, now=NOW))
    first = callback.booked_as
    jobs.cancel_job(job=first, because="nobody has to go", by=office, now=NOW)
    again = callbacks.reopen(callback=callback, by=office)
    assert again.state == CallbackState.OPEN
    booked = callbacks.book_visit(callback=again, title="y", by=office, now=NOW)
    assert booked.state == CallbackState.BOOKED
    assert booked.booked_as != first
