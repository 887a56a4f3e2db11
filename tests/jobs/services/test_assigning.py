"""A crew goes on a visit, or everything against it is said and nothing is written."""

import datetime as dt
import threading

import pytest
from django.db import connection, transaction
from django.db.backends.postgresql.psycopg_any import DateTimeTZRange
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from contractor.errors import Invalid, Refused, Several, Stale
from contractor.models import Grade
from jobs import services
from jobs.models import Assignment, Hold, Override, OverrideRule, SupervisionRule, Visit
from jobs.planning.words import Code, VisitState
from tests.factories import contractor as firm_rows
from tests.factories import jobs as make

pytestmark = pytest.mark.django_db


def assign(visit: Visit, crew, starts_at=None, **more) -> Visit:
    return services.assign_crew(
        visit=visit, crew=crew, starts_at=starts_at or make.at(8), by=visit.job.booked_by,
        now=make.NOW, **more,
    )  # fmt: skip


def codes(refused: pytest.ExceptionInfo[Several]) -> list[str]:
    return [reason.code for reason in refused.value.reasons]


def test_the_usual_people_of_the_crew_go_for_the_expected_time():
    crew = make.crew()
    visit = assign(make.visit("Survey"), crew)
    visit.refresh_from_db()
    assert (visit.state, visit.crew, visit.planned_at) == (VisitState.PLANNED, crew, make.NOW)
    assert visit.ends_at - visit.starts_at == dt.timedelta(minutes=90)
    rows = visit.assignments.all()
    assert {row.person for row in rows} == set(crew.people.all())
    assert {(row.during.lower, row.during.upper) for row in rows} == {
        (visit.starts_at, visit.ends_at)
    }


def test_chosen_people_go_instead_and_those_who_left_the_firm_do_not():
    gone = make.person(is_active=False)
    crew = make.crew(make.person(), gone)
    assert [row.person for row in assign(make.visit(), crew).assignments.all()] != [gone]
    other = make.person()
    visit = assign(make.visit(), crew, people=[other])
    assert [row.person for row in visit.assignments.all()] == [other]


def test_moving_a_visit_frees_its_people_at_the_old_time():
    crew = make.crew()
    visit = assign(make.visit(), crew)
    moved = assign(visit, crew, make.at(13))
    assert assign(make.visit(), crew, make.at(8)).state == VisitState.PLANNED
    assert moved.assignments.count() == 2


def test_moving_a_visit_within_its_own_time_is_no_clash():
    crew = make.crew()
    assert assign(assign(make.visit(), crew), crew, make.at(8, 30)).starts_at == make.at(8, 30)


def test_a_person_twice_at_once_is_told_which_visit_and_when():
    crew = make.crew(make.person("Ann"), make.person())
    first = assign(make.visit("Survey"), crew)
    with pytest.raises(Several) as refused:
        assign(make.visit("Survey"), make.crew(*crew.people.filter(name="Ann")), make.at(9))
    sentence = refused.value.reasons[0].sentence
    assert codes(refused) == ["twice"]
    assert sentence.startswith(
        f"Ann is on {first.job.number} Survey at {first.job.site.street}, Mon"
    )
    assert "8 a.m. – 9:30 a.m." in sentence


def test_nothing_is_written_upon_refusal():
    visit = make.visit("Rough-in", free=False)
    with pytest.raises(Several) as refused:
        assign(visit, make.crew(make.person(grade=None)), overrides={"hold": "it comes at noon"})
    assert codes(refused) == ["licence", "people", "apprentice"]
    assert not Assignment.objects.exists()
    assert not Override.objects.exists()
    assert Visit.objects.get(pk=visit.pk).state == VisitState.UNPLANNED


def test_insisting_needs_a_reason_and_the_reason_is_kept():
    visit = make.visit("Rough-in", free=False)
    with pytest.raises(Several) as refused:
        assign(visit, make.crew(), overrides={"hold": "   "})
    assert codes(refused) == ["hold", "hold"]
    assert refused.value.can_override
    assign(visit, make.crew(), overrides={"hold": "The inspector brings the permit."})
    kept = visit.overrides.all()
    assert [row.reason for row in kept] == ["The inspector brings the permit."] * 2
    assert "waits for: permit" in kept[0].sentence
    assert {row.by for row in kept} == {visit.job.booked_by}


def test_a_firm_decides_what_may_be_insisted_on():
    visit = make.visit("Rough-in", free=False)
    OverrideRule.objects.create(code=Code.HOLD, allowed=False)
    with pytest.raises(Several) as refused:
        assign(visit, make.crew(), overrides={"hold": "please"})
    assert codes(refused) == ["hold", "hold"]
    OverrideRule.objects.create(code=Code.LICENCE, allowed=True)
    OverrideRule.objects.create(code=Code.APPRENTICE, allowed=True)
    helper = make.crew(make.person(grade=Grade.APPRENTICE))
    insisted = {"licence": "a survey only", "apprentice": "a survey only"}
    assert assign(make.visit("Survey"), helper, overrides=insisted).state == VisitState.PLANNED


def test_what_is_never_allowed_stays_refused_whatever_the_firm_says():
    OverrideRule.objects.create(code=Code.TWICE, allowed=True)
    crew = make.crew()
    assign(make.visit(), crew)
    with pytest.raises(Several) as refused:
        assign(make.visit(), crew, overrides={"twice": "they are quick"})
    assert set(codes(refused)) == {"twice"}
    assert not refused.value.can_override


def test_absence_certificate_and_supervision_are_read_from_the_rows():
    away = make.person("Dana")
    firm_rows.AbsenceFactory(person=away, first_day=make.MONDAY, last_day=make.MONDAY)
    battery = make.visit("Trim-out and commissioning", of=make.job(of="Battery storage"))
    with pytest.raises(Several) as refused:
        assign(
            battery, make.crew(away, make.person(grade=Grade.APPRENTICE), make.person(grade=None))
        )
    assert codes(refused) == ["certificate", "apprentice", "absent"]
    SupervisionRule.objects.create(state="OH", apprentices_per_supervisor=2, source="invented")
    kind = firm_rows.CertificateKindFactory(name="Battery storage commissioning")
    make.certify(person=away, kind=kind)
    away.absences.all().delete()
    crew = make.crew(away, make.person(grade=Grade.APPRENTICE), make.person(grade=None))
    assert assign(battery, crew).state == VisitState.PLANNED


def test_promise_hours_order_and_the_past_are_read_from_the_rows():
    make.firm(work_starts=dt.time(8), work_ends=dt.time(16), workdays=[2, 3, 4, 5])
    job = make.job()
    make.planned("Cut-over", of=job, starts_at=make.at(8, day=dt.date(2026, 12, 8)))
    rough_in = make.visit("Rough-in", of=job)
    services.promise_arrival(
        visit=rough_in, by=job.booked_by, now=make.NOW,
        promised_from=make.at(9), promised_until=make.at(11),
    )  # fmt: skip
    with pytest.raises(Several) as refused:
        assign(rough_in, make.crew(), make.at(13))
    assert codes(refused) == ["window", "workday", "hours"]
    with pytest.raises(Several) as refused:
        assign(rough_in, make.crew(), make.at(10, day=dt.date(2026, 12, 9)))
    assert codes(refused) == ["window", "order"]
    with pytest.raises(Several) as refused:
        assign(rough_in, make.crew(), make.at(8, day=dt.date(2026, 11, 25)))
    assert codes(refused) == ["window", "past"]


def test_a_cancelled_job_takes_no_crew():
    visit = make.visit()
    services.cancel_job(
        job=visit.job, because="sold the house", by=visit.job.booked_by, now=make.NOW
    )
    with pytest.raises(Several) as refused:
        assign(visit, make.crew())
    assert codes(refused) == ["job_closed"]


def test_a_visit_begun_or_over_is_not_planned_again():
    for state in (VisitState.UNDER_WAY, VisitState.DONE):
        visit = make.planned()
        Visit.objects.filter(pk=visit.pk).update(state=state)
        with pytest.raises(Several) as refused:
            assign(visit, visit.crew, make.at(14))
        assert codes(refused) == ["visit_over"]


def test_two_coordinators_at_once_do_not_overwrite_each_other():
    visit = make.visit()
    seen = visit.rev
    assign(visit, make.crew(), rev=seen)
    with pytest.raises(Stale):
        assign(visit, make.crew(), make.at(14), rev=seen)
    with pytest.raises(Stale):
        services.unassign(visit=visit, by=visit.job.booked_by, now=make.NOW, rev=seen)


def test_a_visit_ends_after_it_starts():
    with pytest.raises(Invalid):
        assign(make.visit(), make.crew(), ends_at=make.at(7))


def test_unassigning_frees_the_people_and_undo_puts_them_back():
    visit = make.planned()
    plan, by = services.plan_of(visit), visit.job.booked_by
    services.unassign(visit=visit, by=by, now=make.NOW)
    visit.refresh_from_db()
    assert (visit.state, visit.crew, visit.starts_at) == (VisitState.UNPLANNED, None, None)
    assert not visit.assignments.exists()
    back = services.restore_plan(visit=visit, plan=plan, by=by, now=make.NOW)
    assert services.plan_of(back) == plan


def test_undo_is_refused_when_the_people_are_taken_by_now():
    visit = make.planned()
    plan, by, crew = services.plan_of(visit), visit.job.booked_by, visit.crew
    services.unassign(visit=visit, by=by, now=make.NOW)
    assign(make.visit(), crew)
    with pytest.raises(Several) as refused:
        services.restore_plan(visit=visit, plan=plan, by=by, now=make.NOW)
    assert set(codes(refused)) == {"twice"}


class NeverHalfWritten(TestCase):
    """Whatever combination of faults a plan has, a refusal writes nothing at all."""

    faults = st.frozensets(
        st.sampled_from(
            ["twice", "hold", "licence", "people", "absent", "window", "sunday", "early", "past"]
        ),
        min_size=1,
    )

    @settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
    @given(faults, st.sets(st.sampled_from(["hold", "people", "absent", "window"])))
    def test_any_faults_with_any_reasons(self, wrong, insisted):
        visit = make.visit("Rough-in", free="hold" not in wrong)
        people = [make.person(grade=Grade.APPRENTICE if "licence" in wrong else Grade.MASTER)]
        if "people" not in wrong:
            people.append(make.person(grade=people[0].licences.get().grade))
        day = dt.date(2026, 11, 22) if "past" in wrong else make.MONDAY
        day += dt.timedelta(days=6) if "sunday" in wrong and "past" not in wrong else dt.timedelta()
        starts = make.at(6 if "early" in wrong else 9, day=day)
        if "twice" in wrong:
            Assignment.objects.create(
                visit=make.visit(), person=people[0],
                during=DateTimeTZRange(starts, starts + dt.timedelta(hours=1)),
            )  # fmt: skip
        if "absent" in wrong:
            firm_rows.AbsenceFactory(person=people[0], first_day=day, last_day=day)
        if "window" in wrong:
            later = starts + dt.timedelta(hours=3)
            Visit.objects.filter(pk=visit.pk).update(
                promised_from=later, promised_until=later + dt.timedelta(hours=1)
            )
        before = (Assignment.objects.count(), Override.objects.count())
        refused = self.refused(visit, people, starts, dict.fromkeys(insisted, "because"))
        if refused is None:
            assert wrong <= insisted
            assert {row.code for row in visit.overrides.all()} == set(wrong)
            return
        assert before == (Assignment.objects.count(), Override.objects.count())
        fresh = Visit.objects.get(pk=visit.pk)
        assert (fresh.state, fresh.crew) == (VisitState.UNPLANNED, None)
        assert {reason.code for reason in refused.reasons}.isdisjoint(insisted)

    def refused(self, visit, people, starts, overrides) -> Several | None:
        try:
            assign(visit, make.crew(*people), starts, overrides=overrides)
        except Several as refused:
            return refused
        return None


@pytest.mark.django_db(transaction=True)
def test_of_two_coordinators_at_the_same_moment_one_gets_the_person():
    crew = make.crew()
    visits = [make.visit("Survey"), make.visit("Survey")]
    start, answers = threading.Barrier(2), []

    def go(visit):
        start.wait()
        try:
            assign(visit, crew)
            answers.append("planned")
        except Several as refused:
            answers.append(refused.reasons[0].code)
        connection.close()

    run(*[threading.Thread(target=go, args=[visit]) for visit in visits])
    assert sorted(answers) == ["planned", "twice"]
    assert Assignment.objects.count() == 2


@pytest.mark.django_db(transaction=True)
def test_the_database_itself_refuses_a_row_that_came_in_between_and_the_sentence_is_the_same():
    """A writer that knows none of our locks commits after our check and before our insert."""
    crew = make.crew(make.person("Ann"))
    first, second = make.visit("Survey"), make.visit("Survey")
    written, answers = threading.Event(), []

    def stranger():
        with transaction.atomic():
            Assignment.objects.create(
                visit=first, person=crew.lead or crew.people.get(),
                during=DateTimeTZRange(make.at(8), make.at(12)),
            )  # fmt: skip
            written.set()
            wait_until_someone_is_blocked()
        connection.close()

    def ours():
        written.wait()
        try:
            assign(second, crew)
        except Refused as refused:
            answers.append((refused.code, refused.sentence))
        connection.close()

    run(threading.Thread(target=stranger), threading.Thread(target=ours))
    assert answers[0][0] == "twice"
    assert answers[0][1].startswith(f"Ann is on {first.job.number} Survey")
    assert Visit.objects.get(pk=second.pk).state == VisitState.UNPLANNED


@pytest.mark.django_db(transaction=True)
def test_a_hold_taken_back_at_the_same_moment_is_seen():
    """Assigning waits for the job's lock, so it judges the holds as they are then."""
    visit = make.visit("Rough-in")
    hold, crew, answers = visit.holds.first(), make.crew(), []
    locked = threading.Event()

    def take_back():
        with transaction.atomic():
            services.unrelease_hold(hold=hold, by=visit.job.booked_by)
            locked.set()
            wait_until_someone_is_blocked()
        connection.close()

    def go():
        locked.wait()
        try:
            assign(visit, crew)
        except Several as refused:
            answers.extend(reason.code for reason in refused.reasons)
        connection.close()

    run(threading.Thread(target=take_back), threading.Thread(target=go))
    assert answers == ["hold"]
    assert Hold.objects.filter(visit=visit, released_at__isnull=True).count() == 1


@pytest.mark.django_db(transaction=True)
def test_two_visits_of_a_job_planned_at_the_same_moment_still_stand_in_order():
    job, answers, first_is_in = make.job(), [], threading.Event()
    rough_in, cut_over = make.visit("Rough-in", of=job), make.visit("Cut-over", of=job)
    crews = [make.crew(), make.crew()]

    def plan_the_earlier_one_late():
        with transaction.atomic():
            assign(rough_in, crews[0], make.at(10))
            first_is_in.set()
            wait_until_someone_is_blocked()
        connection.close()

    def plan_the_later_one_early():
        first_is_in.wait()
        try:
            assign(cut_over, crews[1], make.at(8))
        except Several as refused:
            answers.extend(reason.code for reason in refused.reasons)
        connection.close()

    run(
        threading.Thread(target=plan_the_earlier_one_late),
        threading.Thread(target=plan_the_later_one_early),
    )
    assert answers == ["order"]


def run(*threads: threading.Thread) -> None:
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=20)


def wait_until_someone_is_blocked() -> None:
    """Returns when another connection waits for a lock we hold, or after five seconds."""
    blocked = "SELECT count(*) FROM pg_stat_activity WHERE wait_event_type = 'Lock'"
    pause = threading.Event()
    for _ in range(100):
        with connection.cursor() as cursor:
            cursor.execute(blocked)
            if cursor.fetchone()[0]:
                return
        pause.wait(0.05)
