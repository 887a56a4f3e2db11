"""Every piece of a job can be changed for this job, and cancelled, and taken up again."""

import datetime as dt
import uuid

import pytest

from contractor.errors import Invalid, Refused, Stale
from contractor.models import Grade
from jobs import services
from jobs.models import Hold, JobKind, Visit
from jobs.planning.words import HoldKind, JobState, VisitState
from jobs.services import close_out_list
from jobs.services import kinds as kind_services
from tests.factories import field as make_field
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db


def names(job) -> list[str]:
    return [visit.name for visit in job.visits.all()]


def change(visit: Visit, **said) -> Visit:
    needs = {
        "name": visit.name, "expected_minutes": 90, "people_needed": 1, "grade_needed": None,
        "certificate_needed": None,
    }  # fmt: skip
    return services.change_visit(visit=visit, by=visit.job.booked_by, **(needs | said))


def test_a_visit_is_added_last_moved_renamed_and_struck_out():
    job = make.job()
    extra = services.add_visit(job=job, name="Drywall patch", by=job.booked_by)
    assert names(job)[-1] == "Drywall patch"
    services.reorder_visit(visit=extra, earlier=True, by=job.booked_by)
    assert names(job)[-2:] == ["Drywall patch", "Walk-through"]
    changed = change(extra, name="Patching", grade_needed=Grade.MASTER)
    assert (changed.name, changed.grade_needed, changed.order) == ("Patching", Grade.MASTER, 5)
    services.remove_visit(visit=extra, by=job.booked_by)
    assert "Patching" not in names(job)


def test_the_first_visit_moved_earlier_stays_first():
    job = make.job()
    before = names(job)
    services.reorder_visit(visit=job.visits.get(name="Survey"), earlier=True, by=job.booked_by)
    assert names(job) == before


def test_the_same_visit_sent_twice_is_added_once():
    job, key = make.job(), uuid.uuid4()
    for _ in range(2):
        services.add_visit(job=job, visit_id=key, name="Drywall patch", by=job.booked_by)
    assert names(job).count("Drywall patch") == 1
    with pytest.raises(Refused) as refused:
        services.add_visit(job=job, visit_id=key, name="Painting", by=job.booked_by)
    assert refused.value.code == "id_taken"


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"name": ""}, "name"),
        ({"expected_minutes": 0}, "expected_minutes"),
        ({"people_needed": 0}, "people_needed"),
    ],
)
def test_needs_that_make_no_sense_are_refused_at_their_field(said, field):
    with pytest.raises(Invalid) as refused:
        change(make.visit(), **said)
    assert field in refused.value.fields


def test_a_change_based_on_an_old_revision_is_refused():
    visit = make.visit()
    change(visit, name="Look round")
    with pytest.raises(Stale):
        change(visit, name="Look about", rev=visit.rev)


def test_a_visit_that_was_worked_on_is_not_struck_out():
    visit = make.planned()
    with pytest.raises(Refused) as refused:
        services.remove_visit(visit=visit, by=visit.job.booked_by)
    assert refused.value.code == "visit_used"


def test_a_cancelled_visit_frees_its_crew_and_comes_back_unplanned():
    visit = make.planned()
    by = visit.job.booked_by
    cancelled = services.cancel_visit(visit=visit, by=by, now=make.NOW)
    assert (cancelled.state, cancelled.crew) == (VisitState.CANCELLED, None)
    assert not visit.assignments.exists()
    assert services.reinstate_visit(visit=visit, by=by).state == VisitState.UNPLANNED


def test_a_promise_needs_both_ends_in_order():
    visit = make.visit()
    promise = {"visit": visit, "by": visit.job.booked_by, "now": make.NOW}
    for said in ((make.at(9), None), (make.at(11), make.at(9))):
        with pytest.raises(Invalid):
            services.promise_arrival(promised_from=said[0], promised_until=said[1], **promise)
    kept = services.promise_arrival(promised_from=make.at(9), promised_until=make.at(11), **promise)
    assert kept.promised_until == make.at(11)


def test_a_cancelled_job_frees_every_crew_and_keeps_its_reason():
    job = make.job()
    make.planned("Survey", of=job)
    cancelled = services.cancel_job(job=job, because="house sold", by=job.booked_by, now=make.NOW)
    assert (cancelled.state, cancelled.cancelled_because) == (JobState.CANCELLED, "house sold")
    assert set(job.visits.values_list("state", flat=True)) == {VisitState.UNPLANNED}
    back = services.reinstate_job(job=job, by=job.booked_by)
    assert (back.state, back.cancelled_because) == (JobState.OPEN, "")


def test_a_job_with_a_crew_on_site_is_not_cancelled():
    visit = make.planned()
    Visit.objects.filter(pk=visit.pk).update(state=VisitState.UNDER_WAY)
    with pytest.raises(Refused) as refused:
        services.cancel_job(job=visit.job, because="x", by=visit.job.booked_by, now=make.NOW)
    assert refused.value.code == "visit_under_way"


def test_cancelling_needs_a_reason():
    job = make.job()
    with pytest.raises(Invalid):
        services.cancel_job(job=job, because=" ", by=job.booked_by, now=make.NOW)


def test_a_hold_is_released_by_name_and_taken_back():
    visit = make.visit("Rough-in", free=False)
    hold, by = visit.holds.get(kind=HoldKind.MATERIAL), visit.job.booked_by
    services.release_hold(hold=hold, by=by, now=make.NOW, reason="counted in the yard")
    hold.refresh_from_db()
    assert (hold.released_by, hold.reason) == (by, "counted in the yard")
    services.unrelease_hold(hold=hold, by=by)
    hold.refresh_from_db()
    assert (hold.released_at, hold.released_by, hold.reason) == (None, None, "")


def test_a_hold_may_be_taken_back_while_the_visit_is_planned_but_not_once_it_has_begun():
    visit = make.planned("Rough-in")
    hold, by = visit.holds.first(), visit.job.booked_by
    services.unrelease_hold(hold=hold, by=by)
    visit.refresh_from_db()
    assert visit.state == VisitState.PLANNED
    Visit.objects.filter(pk=visit.pk).update(state=VisitState.UNDER_WAY)
    with pytest.raises(Refused) as refused:
        services.unrelease_hold(hold=hold, by=by)
    assert refused.value.code == "visit_begun"


def test_a_hold_for_an_inspection_names_one_of_the_same_job():
    visit, other = make.visit(), make.job().inspections.first()
    with pytest.raises(Invalid):
        services.add_hold(visit=visit, kind=HoldKind.INSPECTION, by=visit.job.booked_by)
    with pytest.raises(Invalid):
        services.add_hold(
            visit=visit, kind=HoldKind.INSPECTION, inspection=other, by=visit.job.booked_by
        )
    added = services.add_hold(
        visit=visit, kind=HoldKind.MATERIAL, label="lift", by=visit.job.booked_by
    )
    services.remove_hold(hold=added, by=visit.job.booked_by)
    assert not Hold.objects.filter(pk=added.pk).exists()


def test_a_close_out_line_is_added_moved_changed_and_removed():
    job = make.job()
    by, before = job.booked_by, job.close_out.count()
    line = close_out_list.add_line(job=job, label="Attic hatch shut", asks="check", by=by)
    close_out_list.reorder_line(line=line, earlier=True, by=by)
    assert list(job.close_out.all())[-2].label == "Attic hatch shut"
    changed = close_out_list.change_line(
        line=line, label="Attic hatch closed", asks="photo", required=False, by=by
    )
    assert (changed.label, changed.asks, changed.required) == ("Attic hatch closed", "photo", False)
    close_out_list.remove_line(line=line, by=by)
    assert job.close_out.count() == before


def test_an_answered_line_is_neither_removed_nor_asked_otherwise():
    job = make.job()
    line, by = job.close_out.get(asks="signature"), job.booked_by
    job.close_out.filter(pk=line.pk).update(done_at=make.NOW, done_by=by)
    with pytest.raises(Refused):
        close_out_list.remove_line(line=line, by=by)
    with pytest.raises(Refused):
        close_out_list.change_line(line=line, label="x", asks="check", required=True, by=by)


def test_a_kind_with_jobs_is_kept_and_its_parts_change_for_new_jobs_only():
    old = make.job()
    kind, by = old.kind, old.booked_by
    with pytest.raises(Refused) as refused:
        kind_services.remove_kind(kind=kind, by=by)
    assert refused.value.code == "kind_used"
    kind_services.reorder_part(part=kind.visits.get(name="Walk-through"), earlier=True, by=by)
    kind_services.remove_part(part=kind.visits.get(name="Survey"), by=by)
    assert names(make.job()) == [
        "Rough-in",
        "Cut-over",
        "Walk-through",
        "Trim-out and commissioning",
    ]
    assert names(old)[0] == "Survey"


def test_two_visits_of_a_kind_may_not_share_a_name():
    kind = make.kind()
    twin = kind.visits.model(kind=kind, name="Survey")
    with pytest.raises(Invalid):
        kind_services.save_part(part=twin, by=make.coordinator())


def test_the_kind_callbacks_are_booked_from_stays_and_stays_offered():
    office = make.coordinator()
    kind = JobKind.objects.get(answers_callbacks=True)
    with pytest.raises(Refused, match="Callbacks are booked from this kind"):
        kind_services.remove_kind(kind=kind, by=office)
    kind.is_active = False
    with pytest.raises(Refused) as refused:
        kind_services.save_kind(kind=kind, by=office)
    assert "is_active" in refused.value.fields
    assert JobKind.objects.filter(answers_callbacks=True, is_active=True).exists()


def test_the_list_of_a_closed_job_stays_as_it_is():
    make.firm()
    job = make_field.close(make_field.ready()).job
    line = close_out_list_line(job)
    by = job.booked_by
    for change_it in (
        lambda: close_out_list.remove_line(line=line, by=by),
        lambda: close_out_list.reorder_line(line=line, earlier=True, by=by),
        lambda: close_out_list.add_line(job=job, label="One more", asks="check", by=by),
    ):
        with pytest.raises(Refused) as refused:
            change_it()
        assert refused.value.code == "job_closed"


def test_what_a_closed_job_was_to_be_stays_as_it_was():
    make.firm()
    job = make_field.close(make_field.ready()).job
    by, visit = job.booked_by, job.visits.first()
    soon = make.NOW + dt.timedelta(hours=1)
    for change_it in (
        lambda: services.change_job(job=job, title="Another job", by=by),
        lambda: change(visit),
        lambda: services.promise_arrival(
            visit=visit, promised_from=make.NOW, promised_until=soon, now=make.NOW, by=by
        ),
    ):
        with pytest.raises(Refused, match="open it again first") as refused:
            change_it()
        assert refused.value.code == "job_closed"


def close_out_list_line(job):
    line = job.close_out.filter(photos=None).last()
    job.close_out.filter(pk=line.pk).update(done_at=None, done_by=None)
    return line


def test_what_someone_took_off_meanwhile_is_told_not_broken():
    visit = make.visit(free=False)
    by, hold = visit.job.booked_by, make.visit("Cut-over", of=visit.job, free=False).holds.first()
    line = visit.job.close_out.first()
    Hold.objects.filter(pk=hold.pk).delete()
    services.remove_visit(visit=visit, by=by)
    close_out_list.remove_line(line=line, by=by)
    for late in (
        lambda: services.release_hold(hold=hold, by=by, now=make.NOW),
        lambda: services.remove_visit(visit=visit, by=by),
        lambda: close_out_list.remove_line(line=line, by=by),
    ):
        with pytest.raises(Refused) as refused:
            late()
        assert refused.value.code == "gone"
