"""What the customer answers takes its course: to the crew, to the office, to a callback."""

from __future__ import annotations

import datetime as dt
import uuid

import pytest

from contractor.errors import Invalid, Refused
from followups.cadence.words import CallbackState, Kind
from followups.models import Callback, Message, Reply, Thanks
from followups.queries import replies
from followups.services import answers, callbacks, praise
from jobs.models import Assignment
from tests.factories import followups as made
from tests.factories import jobs as planned

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _firm() -> None:
    planned.firm()


def test_something_wrong_opens_a_callback_tied_to_job_visit_and_crew() -> None:
    check_in = made.sent_check_in()
    reply = made.answered(check_in, "wrong", "The kitchen lights flicker.")
    callback = Callback.objects.get(reply=reply)
    visit = check_in.job.visits.get(state="done")
    assert (callback.job, callback.visit, callback.crew) == (check_in.job, visit, visit.crew)
    assert callback.what == "The kitchen lights flicker."
    assert callback.opened_at == reply.answered_at
    assert callback.opened_by is None
    acknowledged = Message.objects.get(kind=Kind.CALLBACK)
    assert acknowledged.to == check_in.job.site.customer.email
    assert "The kitchen lights flicker." in acknowledged.body_text
    assert "911" in acknowledged.body_text
    assert "Scioto Valley Power" in acknowledged.body_text
    assert acknowledged.not_before == reply.answered_at  # at any hour


def test_something_wrong_without_words_still_opens_one() -> None:
    made.answered(made.sent_check_in(), "wrong")
    assert "Call them" in Callback.objects.get().what


def test_wrong_again_while_it_waits_is_added_and_after_closing_opens_a_new_one() -> None:
    check_in = made.sent_check_in()
    office = planned.coordinator()
    made.answered(check_in, "wrong", "It hums.")
    made.answered(check_in, "wrong", "Now it smells.")
    callback = Callback.objects.get()
    assert Reply.objects.filter(job=callback.job).count() == 2
    callbacks.close(
        callback=callback,
        resolution="Tightened the neutral.",
        cause="loose",
        by=office,
        now=made.WEEK_LATER,
    )
    made.answered(check_in, "wrong", "It hums again.")
    assert Callback.objects.count() == 2


def test_praise_reaches_everyone_who_was_there_by_name_of_the_job() -> None:
    ana, ben, absent = (planned.person(name) for name in ("Ana", "Ben", "Cy"))
    check_in = made.sent_check_in(ana, ben)
    reply = made.answered(check_in, "well", "Swept the whole basement!")
    assert {thanks.person for thanks in Thanks.objects.filter(reply=reply)} == {ana, ben}
    mails = Message.objects.filter(kind=Kind.THANKS)
    assert {mail.to for mail in mails} == {ana.email, ben.email}
    for mail in mails:
        assert str(check_in.job.number) in mail.subject
        assert "Swept the whole basement!" in mail.body_text
    assert not absent.thanks.exists()


def test_all_well_without_words_makes_no_mail() -> None:
    made.answered(made.sent_check_in(planned.person("Ana")), "well")
    assert not Thanks.objects.exists()
    assert not Message.objects.filter(kind=Kind.THANKS).exists()


def test_only_those_on_visits_that_took_place_are_thanked() -> None:
    ana = planned.person("Ana")
    check_in = made.sent_check_in(ana)
    stranger = planned.person("Dee")
    Assignment.objects.create(
        visit=check_in.job.visits.get(name="Rough-in"),
        person=stranger,
        during=(planned.at(8), planned.at(9)),
    )
    made.answered(check_in, "well", "Lovely.")
    assert [thanks.person for thanks in Thanks.objects.all()] == [ana]


def test_a_question_waits_until_someone_has_answered_it() -> None:
    office = planned.coordinator()
    reply = made.answered(made.sent_check_in(), "question", "What is breaker 14?")
    assert list(replies.questions_waiting()) == [reply]
    answers.mark_answered(reply=reply, how="By phone: sump pump", by=office, now=made.WEEK_LATER)
    assert not replies.questions_waiting()
    with pytest.raises(Refused, match="has answered"):
        answers.mark_answered(reply=reply, how="", by=office, now=made.WEEK_LATER)
    answers.mark_waiting(reply=reply, by=office)
    assert list(replies.questions_waiting()) == [reply]


def test_they_may_answer_again_and_nothing_is_lost() -> None:
    check_in = made.sent_check_in()
    made.answered(check_in, "wrong", "It trips.")
    later = made.WEEK_LATER + dt.timedelta(days=1)
    made.answered(check_in, "well", "It was my toaster, sorry.", now=later)
    said = list(replies.replies_by(made.link(check_in)))
    assert [reply.answer for reply in said] == ["well", "wrong"]
    assert Callback.objects.get().state == CallbackState.OPEN  # a person decides


def test_two_taps_are_one_answer() -> None:
    check_in = made.sent_check_in()
    tap = uuid.uuid4()
    first = made.answered(check_in, "wrong", "It hums.", reply_id=tap)
    second = made.answered(check_in, "wrong", "It hums.", reply_id=tap)
    assert first == second
    assert (Reply.objects.count(), Callback.objects.count()) == (1, 1)


def test_someone_elses_id_does_not_overwrite_their_answer() -> None:
    theirs = made.answered(made.sent_check_in(), "well", "Fine.")
    mine = made.answered(made.sent_check_in(), "wrong", "Bad.", reply_id=theirs.pk)
    assert mine.pk != theirs.pk
    theirs.refresh_from_db()
    assert theirs.text == "Fine."


def test_an_unknown_answer_is_refused_and_nothing_kept() -> None:
    with pytest.raises(Invalid):
        made.answered(made.sent_check_in(), "splendid")
    assert not Reply.objects.exists()


def test_unanswered_check_ins_are_those_that_left_and_have_no_answer() -> None:
    silent, answered = made.sent_check_in(), made.sent_check_in()
    made.answered(answered, "well")
    made.closed_job()  # its check-in has not left yet
    assert list(replies.check_ins_unanswered(made.WEEK_LATER)) == [silent]


def test_praise_by_telephone_is_passed_on_and_the_same_reply_only_once() -> None:
    ana, office = planned.person("Ana"), planned.coordinator()
    check_in = made.sent_check_in(ana)
    reply = made.answered(check_in, "question", "Great crew! What is 14?")
    for _time in range(2):
        praise.pass_on(job=reply.job, text=reply.text, reply=reply, by=office, now=made.WEEK_LATER)
    assert ana.thanks.count() == 1
    praise.pass_on(job=reply.job, text="She called: lovely.", by=office, now=made.WEEK_LATER)
    assert ana.thanks.count() == 2
    assert praise.mark_read(person=ana, now=made.WEEK_LATER) == 2
    with pytest.raises(Invalid):
        praise.pass_on(job=reply.job, text=" ", by=office, now=made.WEEK_LATER)
    with pytest.raises(Refused, match="Nobody"):
        praise.pass_on(job=planned.job(), text="Nice.", by=office, now=made.WEEK_LATER)
