"""A job closes with everything it needs, once, and takes what follows with it; or not at all."""

import datetime as dt
import threading
import uuid

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.db import DatabaseError, connection, transaction

from contractor.errors import Invalid, Refused, Several, Stale
from followups.models import Message
from jobs import services as office
from jobs.models import CloseOut, Job, Override
from jobs.planning.words import CloseOutKind, JobState, VisitState
from jobs.services import answers, field, measuring, photos, signing
from jobs.services.close_out import close_job, reopen_job
from panels.models import DirectoryRevision
from tests.factories import field as make_field
from tests.factories import jobs as make
from tests.factories.panels import a_circuit

pytestmark = pytest.mark.django_db
LONG_AGO = dt.datetime(2000, 1, 3, 9, tzinfo=dt.UTC)


@pytest.fixture(autouse=True)
def _folder(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    make.firm()


def close(last, /, **said) -> CloseOut:
    said = {"by": make_field.worker(last), "now": last.ends_at} | said
    return close_job(job=last.job, **said)


def unchanged(job: Job) -> bool:
    job.refresh_from_db()
    return (job.state, job.closed_at) == (JobState.OPEN, None) and not CloseOut.objects.exists()


KINDS = ["Service call", "Panel replacement with subpanel", "Battery storage"]


@pytest.mark.parametrize("kind", KINDS)
def test_a_job_with_everything_is_closed_by_whom_and_when(kind):
    visit = make_field.ready(kind)
    closed = close(visit)
    job = Job.objects.get(pk=visit.job_id)
    assert job.state == JobState.CLOSED
    assert (job.closed_by, job.closed_at) == (make_field.worker(visit), visit.ends_at)
    assert (closed.visit, closed.closed_by) == (visit, job.closed_by)


def test_a_fresh_job_is_told_everything_it_lacks_and_nothing_is_written():
    visit = make_field.on_the_plan("Service change")
    job = visit.job
    make_field.house(job)
    Job.objects.filter(pk=job.pk).update(booked_at=LONG_AGO)  # so the panel was recorded on it
    with pytest.raises(Several) as refused:
        close(visit)
    told = " ".join(reason.sentence for reason in refused.value.reasons)
    for line in job.close_out.exclude(asks=CloseOutKind.DIRECTORY):
        assert f"“{line.label}”" in told
    for other in job.visits.all():
        assert other.name in told
    assert "Main panel has no directory yet" in told
    assert {reason.code for reason in refused.value.reasons} == {"visit", "line", "directory"}
    assert unchanged(job)
    assert not Message.objects.filter(job=job, kind="check_in").exists()


def test_taking_any_one_answer_back_names_it_again():
    visit = make_field.ready("Service change")
    job, by, now = visit.job, make_field.worker(visit), visit.ends_at
    signing.take_back_signature(signature=job.signature, by=by)
    photo = visit.photos.first()
    photos.remove_photo(photo=photo, by=by, now=now)
    volts = make_field.line(job, CloseOutKind.VOLTAGE)
    for proof in volts.proofs.all():
        measuring.strike_reading(line=volts, reading=proof.reading, by=by)
    tick = make_field.line(job, CloseOutKind.CHECK)
    answers.tick(line=tick, by=by, now=now, done=False)
    with pytest.raises(Several) as refused:
        close(visit)
    assert len(refused.value.reasons) == 4
    for label in (photo.line.label, volts.label, tick.label, "Customer’s signature"):
        assert label in refused.value.sentence


def test_a_panel_changed_after_its_directory_is_named_or_issued_on_the_way():
    visit = make_field.ready()
    panel = visit.job.site.panels.get()
    a_circuit(panel, 3, name="Sump pump")
    with pytest.raises(Several) as refused:
        close(visit)
    assert [reason.code for reason in refused.value.reasons] == ["directory"]
    assert unchanged(visit.job)
    closed = close(visit, issue_directories=True)
    assert DirectoryRevision.objects.filter(panel=panel).count() == 2
    assert closed.proved["directories"][0]["revision"] == 2


def test_directories_issued_on_the_way_fall_with_the_refusal():
    visit = make_field.ready()
    a_circuit(visit.job.site.panels.get(), 3, name="Sump pump")
    signing.take_back_signature(signature=visit.job.signature, by=make_field.worker(visit))
    with pytest.raises(Several):
        close(visit, issue_directories=True)
    assert DirectoryRevision.objects.count() == 1


def test_closing_from_the_visit_under_way_is_leaving_it():
    visit = make_field.ready()
    by = make_field.worker(visit)
    field.take_back_leaving(visit=visit, by=by)
    with pytest.raises(Several) as refused:
        close(visit)
    assert "still under way" in refused.value.sentence
    now = visit.ends_at - dt.timedelta(minutes=5)
    close(visit, visit=visit, now=now)
    visit.refresh_from_db()
    assert (visit.state, visit.left_at) == (VisitState.DONE, now)


def test_a_refused_close_does_not_leave_the_visit_either():
    visit = make_field.ready()
    by = make_field.worker(visit)
    field.take_back_leaving(visit=visit, by=by)
    signing.take_back_signature(signature=visit.job.signature, by=by)
    with pytest.raises(Several):
        close(visit, visit=visit)
    visit.refresh_from_db()
    assert visit.state == VisitState.UNDER_WAY


def test_what_was_proved_is_written_down_whole():
    visit = make_field.ready("Service change")
    Override.objects.create(
        visit=visit, code="hours", sentence="Outside working hours.", reason="utility’s slot",
        by=visit.job.booked_by, at=make.NOW,
    )  # fmt: skip
    proved = close(visit).proved
    by_label = {line["asks"]: line for line in proved["lines"]}
    readings = by_label["voltage"]["readings"]
    assert [(one["between"], one["value"], one["finding"]) for one in readings] == [
        ("A-N", 121.4, "within"), ("B-N", 121.1, "within"), ("A-B", 242.6, "within"),
    ]  # fmt: skip
    assert readings[0]["source"].startswith("COMAR")
    photo = visit.photos.first()
    assert photo.sha256 in [one["sha256"] for one in by_label["photo"]["photos"]]
    assert proved["signature"]["signed_name"] == "Maren Holloway"
    assert proved["signature"]["strokes"]["strokes"][0][0] == [20.0, 90.0]
    revision = DirectoryRevision.objects.get()
    assert [one["digest"] for one in proved["directories"]] == [revision.digest]
    assert proved["overrides"][0]["reason"] == "utility’s slot"
    assert proved["permits"][0]["state"] == "needed"
    assert any("not finaled" in said for said in proved["notices"])
    seen = next(one for one in proved["visits"] if one["name"] == visit.name)
    assert seen["people"] == ["Dana Okafor"]
    assert dt.datetime.fromisoformat(seen["left_at"]) == visit.left_at


def test_what_was_proved_can_never_be_changed_or_thrown_away():
    closed = close(make_field.ready())
    for change in (
        lambda: CloseOut.objects.filter(pk=closed.pk).update(proved={}),
        lambda: CloseOut.objects.filter(pk=closed.pk).update(closed_at=make.NOW),
        closed.delete,
    ):
        with pytest.raises(DatabaseError), transaction.atomic():
            change()


def test_closing_owes_the_customer_the_check_in_and_the_walk_through():
    visit = make_field.ready()
    close(visit)
    owed = Message.objects.filter(job=visit.job)
    assert {"check_in", "walk_through"} <= set(owed.values_list("kind", flat=True))
    assert owed.get(kind="check_in").not_before.date() == make.MONDAY + dt.timedelta(days=7)


def test_a_fault_in_what_follows_undoes_the_close_and_the_rows_before_it(settings):
    settings.AFTER_CLOSE_OUT = [
        *settings.AFTER_CLOSE_OUT,
        "tests.jobs.services.test_close_out.fail",
    ]
    visit = make_field.ready()
    with pytest.raises(ImproperlyConfigured), transaction.atomic():
        close(visit, issue_directories=True)
    assert unchanged(visit.job)
    assert not Message.objects.filter(job=visit.job, kind="check_in").exists()


def fail(**facts) -> None:
    assert Message.objects.filter(job=facts["job"], kind="check_in").exists()
    raise ImproperlyConfigured("the last one in the row fails")


def test_the_same_request_sent_twice_closes_once_and_another_is_refused():
    visit, key = make_field.ready(), uuid.uuid4()
    first = close(visit, close_out_id=key)
    again = close(visit, close_out_id=key)
    assert (again.pk, CloseOut.objects.count()) == (first.pk, 1)
    with pytest.raises(Refused) as refused:
        close(visit, close_out_id=uuid.uuid4())
    assert refused.value.code == "job_closed"
    assert Message.objects.filter(job=visit.job, kind="check_in").count() == 1


def test_a_close_based_on_an_older_job_is_told():
    visit = make_field.ready()
    rev = visit.job.rev
    office.change_job(job=visit.job, by=visit.job.booked_by, title="Main and subpanel")
    with pytest.raises(Stale):
        close(visit, rev=rev)


def test_a_stranger_may_not_close():
    visit = make_field.ready()
    with pytest.raises(Refused) as refused:
        close(visit, by=make_field.technician())
    assert refused.value.code == "not_yours"
    assert unchanged(visit.job)


def test_a_closed_job_stays_as_it_is():
    visit = make_field.ready()
    close(visit)
    job, by, now = visit.job, make_field.worker(visit), visit.ends_at
    text = make_field.line(job, CloseOutKind.TEXT)
    volts = make_field.line(job, CloseOutKind.VOLTAGE)
    for act in (
        lambda: answers.write(line=text, text="other", by=by, now=now),
        lambda: answers.does_not_apply(line=volts, because="x", by=by, now=now),
        lambda: measuring.strike_reading(line=volts, reading=volts.proofs.first().reading, by=by),
        lambda: signing.take_back_signature(signature=job.signature, by=by),
        lambda: field.take_back_leaving(visit=visit, by=by),
        lambda: field.note(visit=visit, text="later", by=by),
        lambda: field.correct_times(
            visit=visit, arrived_at=visit.starts_at, left_at=None, by=by, now=now
        ),
    ):
        with pytest.raises(Refused) as refused:
            act()
        assert refused.value.code == "job_closed"


def test_only_the_office_opens_it_again_and_only_with_a_reason():
    visit = make_field.ready()
    closed = close(visit)
    who = {"job": visit.job, "now": visit.ends_at}
    with pytest.raises(Refused) as refused:
        reopen_job(because="forgot", by=make_field.worker(visit), **who)
    assert refused.value.code == "office_only"
    with pytest.raises(Invalid) as refused:
        reopen_job(because="  ", by=make.coordinator(), **who)
    assert list(refused.value.fields) == ["because"]
    boss = make.owner()
    job = reopen_job(because="Wrong breaker on the door.", by=boss, **who)
    assert (job.state, job.closed_by, job.closed_at) == (JobState.OPEN, None, None)
    closed.refresh_from_db()
    assert (closed.reopened_by, closed.reopened_because) == (boss, "Wrong breaker on the door.")
    check_in = Message.objects.get(job=job, kind="check_in")
    assert check_in.state not in ("due", "sending", "sent")


def test_opened_and_closed_again_both_records_stay():
    visit = make_field.ready()
    close(visit)
    reopen_job(job=visit.job, because="one more", by=make.owner(), now=visit.ends_at)
    later = visit.ends_at + dt.timedelta(hours=2)
    text = make_field.line(visit.job, CloseOutKind.TEXT)
    answers.write(line=text, text="Also the neutral bar.", by=make_field.worker(visit), now=later)
    close(visit, now=later)
    newest, oldest = CloseOut.objects.filter(job=visit.job)
    assert newest.proved["lines"][0]["note"] == "Also the neutral bar."
    assert oldest.proved["lines"][0]["note"].startswith("Loose neutral")


@pytest.mark.django_db(transaction=True)
def test_two_people_closing_at_once_close_it_once():
    visit = make_field.ready()
    by, told = make_field.worker(visit), []

    def press() -> None:
        try:
            told.append(close(visit, by=by).pk)
        except Refused as refusal:
            told.append(refusal.code)
        finally:
            connection.close()

    threads = [threading.Thread(target=press) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert told.count("job_closed") == 3
    assert CloseOut.objects.count() == 1
    assert Message.objects.filter(job=visit.job, kind="check_in").count() == 1


@pytest.mark.django_db(transaction=True)
def test_a_photo_sent_while_the_job_is_closed_is_in_the_record_or_refused():
    visit = make_field.ready()
    by, told = make_field.worker(visit), {}

    def send() -> None:
        try:
            photo = photos.add_photo(
                visit=visit, upload=make_field.picture("olive"), by=by, now=visit.ends_at
            )
            told["photo"] = str(photo.pk)
        except Refused as refusal:
            told["refused"] = refusal.code
        finally:
            connection.close()

    def press() -> None:
        try:
            told["proved"] = close(visit, by=by).proved
        finally:
            connection.close()

    threads = [threading.Thread(target=send), threading.Thread(target=press)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    in_record = [one["id"] for one in told["proved"]["photos"]]
    assert told.get("refused") == "job_closed" or told["photo"] in in_record


def test_the_id_of_another_jobs_close_out_is_refused():
    make.firm()
    first, other = make_field.close(make_field.ready()), make_field.ready()
    with pytest.raises(Refused) as refused:
        close_job(
            job=other.job, by=make_field.worker(other), now=other.ends_at, close_out_id=first.pk
        )
    assert refused.value.code == "id_taken"
    assert CloseOut.objects.count() == 1
