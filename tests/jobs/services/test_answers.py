"""Lines are answered by whom and when; taken back they are open again."""

import pytest

from contractor.errors import Invalid, Refused, Stale
from jobs import services as office
from jobs.models import CloseOutLine, Visit
from jobs.planning.words import CloseOutKind
from jobs.services import answers, close_out_list
from tests.factories import field as make_field
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db
NOW = make.at(9)


@pytest.fixture
def visit() -> Visit:
    make.firm()
    return make_field.under_way(of="Vehicle supply equipment")


@pytest.fixture
def by(visit):
    return make_field.worker(visit)


@pytest.fixture
def line(visit) -> CloseOutLine:
    return make_field.line(visit.job, CloseOutKind.CHECK)


def words(visit) -> CloseOutLine:
    return close_out_list.add_line(
        job=visit.job, label="What the customer should know", asks="text", by=visit.job.booked_by
    )


def test_a_tick_says_who_and_when_and_can_be_taken_back(line, by):
    ticked = answers.tick(line=line, by=by, now=NOW)
    assert (ticked.done_by, ticked.done_at) == (by, NOW)
    open_again = answers.tick(line=line, by=by, now=NOW, done=False, rev=ticked.rev)
    assert (open_again.done_by, open_again.done_at) == (None, None)


def test_ticking_twice_keeps_the_first(line, by):
    first = answers.tick(line=line, by=by, now=NOW)
    again = answers.tick(line=line, by=make.owner(), now=make.at(10), rev=line.rev)
    assert (again.done_by, again.done_at, again.rev) == (by, NOW, first.rev)


def test_words_are_kept_and_no_words_open_the_line_again(visit, by):
    line = words(visit)
    written = answers.write(line=line, text=" Test the GFCI monthly. ", by=by, now=NOW)
    assert (written.note, written.done_by) == ("Test the GFCI monthly.", by)
    with pytest.raises(Stale):
        answers.write(line=line, text="other", by=by, now=NOW, rev=line.rev)
    assert answers.write(line=line, text="  ", by=by, now=NOW, rev=written.rev).done_at is None


def test_what_does_not_apply_needs_its_reason_and_can_apply_after_all(line, by):
    with pytest.raises(Invalid) as refused:
        answers.does_not_apply(line=line, because=" ", by=by, now=NOW)
    assert list(refused.value.fields) == ["because"]
    said = answers.does_not_apply(line=line, because="No new load.", by=by, now=NOW)
    assert (said.not_applicable, said.note, said.done_by) == (True, "No new load.", by)
    back = answers.applies_after_all(line=line, by=by, rev=said.rev)
    assert (back.not_applicable, back.note, back.done_at) == (False, "", None)


def test_where_the_firm_does_not_allow_it_every_line_applies(line, by):
    CloseOutLine.objects.filter(pk=line.pk).update(may_not_apply=False)
    with pytest.raises(Refused) as refused:
        answers.does_not_apply(line=line, because="in a hurry", by=by, now=NOW)
    assert refused.value.code == "must_apply"
    line.refresh_from_db()
    assert line.done_at is None


def test_what_was_answered_is_not_waved_away(line, by):
    answers.tick(line=line, by=by, now=NOW)
    with pytest.raises(Refused) as refused:
        answers.does_not_apply(line=line, because="never mind", by=by, now=NOW)
    assert refused.value.code == "line_answered"


def test_ticking_what_did_not_apply_makes_it_apply(line, by):
    answers.does_not_apply(line=line, because="No new load.", by=by, now=NOW)
    ticked = answers.tick(line=line, by=by, now=NOW)
    assert (ticked.not_applicable, ticked.note, ticked.done_by) == (False, "", by)


def test_a_line_takes_only_the_proof_it_asks_for(visit, by):
    line = make_field.line(visit.job, CloseOutKind.PHOTO)
    for act in (answers.tick, lambda **said: answers.write(text="seen", **said)):
        with pytest.raises(Refused) as refused:
            act(line=line, by=by, now=NOW)
        assert refused.value.code == "other_proof"


def test_a_line_struck_off_meanwhile_is_told(visit, line, by):
    close_out_list.remove_line(line=line, by=visit.job.booked_by)
    with pytest.raises(Refused) as refused:
        answers.tick(line=line, by=by, now=NOW)
    assert refused.value.code == "gone"


def test_a_stranger_may_not_answer(line):
    with pytest.raises(Refused) as refused:
        answers.tick(line=line, by=make_field.technician(), now=NOW)
    assert refused.value.code == "not_yours"


def test_a_cancelled_job_takes_no_answers(visit, line, by):
    for other in visit.job.visits.all():
        if other.state == "under_way":
            from jobs.services import field

            field.leave(visit=other, by=by, now=NOW)
    office.cancel_job(job=visit.job, because="sold", by=visit.job.booked_by, now=NOW)
    with pytest.raises(Refused) as refused:
        answers.tick(line=line, by=by, now=NOW)
    assert refused.value.code == "job_cancelled"
