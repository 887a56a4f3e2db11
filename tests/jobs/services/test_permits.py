"""Permits and inspections move what waits for them, and lengthen each other."""

import datetime as dt

import pytest

from contractor.errors import Invalid, Refused
from contractor.models import Authority
from jobs import services
from jobs.models import Hold, Inspection, Job, Permit, Visit
from jobs.planning.words import HoldKind, InspectionState, PermitState, VisitState
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db

ISSUED = dt.date(2026, 11, 16)


@pytest.fixture
def job() -> Job:
    return make.job()


def issue(job: Job, **said) -> Permit:
    facts = {"number": "E-26-1184", "issued_on": ISSUED, "by": job.booked_by, "now": make.NOW}
    return services.issue_permit(permit=job.permits.get(), **(facts | said))


def result(inspection: Inspection, passed: bool, on: dt.date = dt.date(2026, 11, 20), **said):
    by = inspection.job.booked_by
    return services.record_result(
        inspection=inspection, passed=passed, on=on, by=by, now=make.NOW, **said
    )


def waiting(job: Job, kind: HoldKind) -> list[str]:
    rows = Hold.objects.filter(visit__job=job, kind=kind, released_at=None)
    return sorted(rows.values_list("visit__name", flat=True))


def test_issuing_dates_the_permit_and_releases_what_waited_for_it(job):
    assert waiting(job, HoldKind.PERMIT) == ["Cut-over", "Rough-in"]
    permit = issue(job)
    assert (permit.state, permit.expires_on) == (PermitState.ISSUED, dt.date(2027, 5, 15))
    assert waiting(job, HoldKind.PERMIT) == []
    hold = Hold.objects.filter(visit__job=job, kind=HoldKind.PERMIT).first()
    assert (hold.released_by, hold.released_at) == (job.booked_by, make.NOW)
    assert hold.reason == "permit E-26-1184 issued"
    assert waiting(job, HoldKind.MATERIAL) == ["Cut-over", "Rough-in"]


def test_taking_the_issue_back_holds_again_what_it_released_and_nothing_else(job):
    by_hand = Hold.objects.filter(visit__job=job, kind=HoldKind.PERMIT).first()
    services.release_hold(hold=by_hand, by=job.booked_by, now=make.NOW, reason="seen on paper")
    issue(job)
    permit = services.take_back_issue(permit=job.permits.get(), by=job.booked_by)
    assert (permit.state, permit.number, permit.expires_on) == (PermitState.NEEDED, "", None)
    assert waiting(job, HoldKind.PERMIT) == ["Cut-over"]


def test_with_two_permits_holds_wait_for_both(job):
    second = services.add_permit(job=job, by=job.booked_by)
    first = job.permits.exclude(pk=second.pk).get()
    facts = {"issued_on": ISSUED, "by": job.booked_by, "now": make.NOW}
    services.issue_permit(permit=first, number="E-1", **facts)
    assert waiting(job, HoldKind.PERMIT) == ["Cut-over", "Rough-in"]
    services.issue_permit(permit=second, number="U-2", **facts)
    assert waiting(job, HoldKind.PERMIT) == []


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"number": " "}, "number"),
        ({"issued_on": dt.date(2026, 11, 26)}, "issued_on"),
        ({"issued_on": dt.date(2026, 11, 1)}, "issued_on"),
    ],
)
def test_what_cannot_be_on_a_permit_is_refused_at_its_field(job, said, field):
    permit = job.permits.get()
    services.apply_for_permit(permit=permit, on=dt.date(2026, 11, 10), by=job.booked_by)
    with pytest.raises(Invalid) as refused:
        issue(job, **said)
    assert field in refused.value.fields
    assert waiting(job, HoldKind.PERMIT) == ["Cut-over", "Rough-in"]


def test_a_site_without_an_authority_must_be_given_one_first():
    job = make.job(at_site=make.site(authority=None))
    with pytest.raises(Invalid) as refused:
        issue(job)
    assert "authority" in refused.value.fields
    authority = Authority.objects.create(name="Mill County", permit_days=90)
    assert issue(job, authority=authority).expires_on == ISSUED + dt.timedelta(days=90)


@pytest.mark.parametrize(
    ("counted_from", "after_failure", "after_pass"),
    [("issue", 0, 0), ("inspection", 2, 4), ("passed", 0, 4)],
)
def test_an_inspection_lengthens_the_permit_by_the_authoritys_rule(
    job, counted_from, after_failure, after_pass
):
    Authority.objects.update(permit_days=180, permit_days_from=counted_from)
    good = issue(job).expires_on
    rough_in = job.inspections.get(name="Rough-in")
    result(rough_in, False, ISSUED + dt.timedelta(days=2), findings="box fill")
    assert job.permits.get().expires_on - good == dt.timedelta(days=after_failure)
    result(rough_in.again.get(), True, ISSUED + dt.timedelta(days=4))
    assert job.permits.get().expires_on - good == dt.timedelta(days=after_pass)
    services.take_back_result(inspection=rough_in.again.get(), by=job.booked_by)
    assert job.permits.get().expires_on - good == dt.timedelta(days=after_failure)


def test_an_extension_in_writing_holds(job):
    permit = issue(job)
    longer = permit.expires_on + dt.timedelta(days=90)
    assert (
        services.extend_permit(permit=permit, until=longer, by=job.booked_by).expires_on == longer
    )
    with pytest.raises(Invalid):
        services.extend_permit(permit=permit, until=permit.expires_on, by=job.booked_by)
    services.take_back_issue(permit=permit, by=job.booked_by)
    assert (
        issue(job).expires_on < longer
    )  # another issue, another rule: the letter was for that one


def test_a_permit_is_finaled_only_when_no_inspection_is_open(job):
    permit = issue(job)
    with pytest.raises(Refused, match="Rough-in has not passed yet"):
        services.final_permit(permit=permit, on=dt.date(2026, 11, 24), by=job.booked_by)
    for inspection in job.inspections.all():
        result(inspection, True)
    done = services.final_permit(permit=permit, on=dt.date(2026, 11, 24), by=job.booked_by)
    assert done.state == PermitState.FINALED
    assert services.reopen_permit(permit=done, by=job.booked_by).state == PermitState.ISSUED


def test_a_pass_releases_the_visit_that_waited_for_it(job):
    assert waiting(job, HoldKind.INSPECTION) == ["Cut-over", "Walk-through"]
    result(job.inspections.get(name="Rough-in"), True, inspector="R. Hale")
    assert waiting(job, HoldKind.INSPECTION) == ["Walk-through"]


def test_a_failure_makes_the_same_inspection_due_again_and_the_visit_waits_for_that(job):
    rough_in = job.inspections.get(name="Rough-in")
    failed = result(rough_in, False, findings="Box fill exceeded.")
    again = failed.again.get()
    assert (again.name, again.state) == ("Rough-in", InspectionState.DUE)
    assert again.due_on == dt.date(2026, 11, 23)
    assert Hold.objects.get(inspection=again).visit.name == "Cut-over"
    result(again, True)
    assert waiting(job, HoldKind.INSPECTION) == ["Walk-through"]


def test_a_failure_without_findings_is_refused(job):
    with pytest.raises(Invalid) as refused:
        result(job.inspections.get(name="Rough-in"), False)
    assert "findings" in refused.value.fields


def test_a_result_from_tomorrow_is_refused(job):
    with pytest.raises(Invalid):
        result(job.inspections.get(name="Final"), True, dt.date(2026, 11, 26))


def test_a_result_taken_back_undoes_what_followed_from_it(job):
    rough_in = job.inspections.get(name="Rough-in")
    result(rough_in, True)
    services.take_back_result(inspection=rough_in, by=job.booked_by)
    assert waiting(job, HoldKind.INSPECTION) == ["Cut-over", "Walk-through"]
    result(rough_in, False, findings="Box fill exceeded.")
    services.take_back_result(inspection=rough_in, by=job.booked_by)
    assert not rough_in.again.exists()
    assert (
        Hold.objects.get(visit__job=job, visit__name="Cut-over", kind="inspection").inspection
        == rough_in
    )
    rough_in.refresh_from_db()
    assert (rough_in.state, rough_in.findings, rough_in.done_on) == ("due", "", None)


def test_a_failure_whose_repetition_is_under_way_is_not_taken_back(job):
    rough_in = job.inspections.get(name="Rough-in")
    result(rough_in, False, findings="Box fill exceeded.")
    services.request_inspection(inspection=rough_in.again.get(), by=job.booked_by)
    with pytest.raises(Refused) as refused:
        services.take_back_result(inspection=rough_in, by=job.booked_by)
    assert refused.value.code == "repeated_already"


def test_a_request_keeps_window_and_inspector_and_can_be_taken_back(job):
    final = job.inspections.get(name="Final")
    asked = services.request_inspection(
        inspection=final, window_from=make.at(9), window_until=make.at(11), inspector="R. Hale",
        by=job.booked_by,
    )  # fmt: skip
    assert (asked.state, asked.window_from) == (InspectionState.REQUESTED, make.at(9))
    back = services.take_back_request(inspection=final, by=job.booked_by)
    assert (back.state, back.window_from, back.inspector) == (InspectionState.DUE, None, "")
    with pytest.raises(Invalid):
        services.request_inspection(
            inspection=final, window_from=make.at(9), window_until=make.at(9), by=job.booked_by
        )


def test_an_inspection_falls_due_when_the_visit_before_it_is_done(job):
    rough_in = make.planned("Rough-in", of=job)
    Visit.objects.filter(pk=rough_in.pk).update(state=VisitState.DONE, left_at=make.at(15))
    rough_in.refresh_from_db()
    services.fall_due(visit=rough_in)
    assert job.inspections.get(name="Rough-in").due_on == dt.date(2026, 12, 3)
    Visit.objects.filter(pk=rough_in.pk).update(state=VisitState.UNDER_WAY, left_at=None)
    rough_in.refresh_from_db()
    services.fall_due(visit=rough_in)
    assert job.inspections.get(name="Rough-in").due_on is None


def test_the_day_the_visit_was_done_is_the_day_at_the_site(job):
    rough_in = make.planned("Rough-in", of=job)
    late = make.at(23, 30)  # already December in UTC
    Visit.objects.filter(pk=rough_in.pk).update(state=VisitState.DONE, left_at=late)
    rough_in.refresh_from_db()
    services.fall_due(visit=rough_in)
    assert job.inspections.get(name="Rough-in").due_on == dt.date(2026, 12, 3)
