"""Every reason against a plan, each alone, and all of them at once."""

import datetime as dt
from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest
from django.utils import dateformat
from hypothesis import given
from hypothesis import strategies as st

from jobs.planning.asking import Ask, Away, Engaged, Held, Step, Worker
from jobs.planning.refusals import CHECKS, refusals
from jobs.planning.supervision import ONE_TO_ONE, Supervision, rule_for
from jobs.planning.words import NEVER, Code, clock, said

ZONE = ZoneInfo("America/New_York")
MONDAY = dt.date(2026, 11, 30)
JOURNEYMAN, APPRENTICE = 30, 10


def at(hour: int, minute: int = 0, day: dt.date = MONDAY) -> dt.datetime:
    return dt.datetime.combine(day, dt.time(hour, minute), tzinfo=ZONE)


ANN = Worker(name="Ann", licences=(Held(grade=JOURNEYMAN, state="OH"),))
BOB = Worker(name="Bob", licences=(Held(grade=JOURNEYMAN, state="OH"),))
LEE = Worker(name="Lee", licences=(Held(grade=APPRENTICE, state="OH"),))
SAM = Worker(name="Sam")

GOOD = Ask(
    job="1001 Panel",
    visit="Cut-over",
    crew="Crew 1",
    starts=at(8),
    ends=at(12),
    now=at(9, day=dt.date(2026, 11, 25)),
    workers=(ANN, BOB),
    state="OH",
    people_needed=2,
    grade_needed=JOURNEYMAN,
    grade_name="journeyman",
    supervision=ONE_TO_ONE,
)

LAPSED = Held(grade=JOURNEYMAN, expires_on=dt.date(2026, 11, 29))
ELSEWHERE = Engaged(visit="1007 Survey", place="9 Mill Street", starts=at(11), ends=at(13))


def against(ask: Ask) -> list[tuple[Code, str]]:
    return [(refusal.code, refusal.sentence) for refusal in refusals(ask, may_override=frozenset())]


def test_nothing_stands_against_a_good_plan():
    assert against(GOOD) == []


@pytest.mark.parametrize(
    ("changes", "code", "sentence"),
    [
        (
            {"job_closed": True, "job_state": "closed"},
            Code.JOB_CLOSED,
            "1001 Panel is closed: open it again first.",
        ),
        (
            {"visit_over": True, "visit_state": "done"},
            Code.VISIT_OVER,
            "Cut-over is done and can no longer be planned.",
        ),
        ({"workers": ()}, Code.NOBODY, "Crew 1 has nobody in it. Choose who goes."),
        (
            {"workers": (replace(ANN, elsewhere=(ELSEWHERE,)), BOB)},
            Code.TWICE,
            "Ann is on 1007 Survey at 9 Mill Street, Mon Nov. 30, 11 a.m. – 1 p.m.: "
            "choose another time or person.",
        ),
        (
            {"holds": ("permit issued",)},
            Code.HOLD,
            "Cut-over waits for: permit issued.",
        ),
        (
            {"workers": (replace(ANN, licences=()), LEE, BOB), "grade_needed": 40,
             "grade_name": "master", "supervision": None},
            Code.LICENCE,
            "Nobody on this visit holds a master licence. Add someone who does.",
        ),
        (
            {"workers": (replace(ANN, licences=(LAPSED,)),), "people_needed": 1,
             "supervision": None},
            Code.LICENCE,
            "Nobody on this visit holds a journeyman licence good on Mon Nov. 30. "
            "It ran out: Ann Sun Nov. 29.",
        ),
        (
            {"workers": (replace(ANN, licences=(Held(grade=JOURNEYMAN, state="PA"),)),),
             "people_needed": 1, "supervision": None},
            Code.LICENCE,
            "Nobody on this visit holds a journeyman licence. Add someone who does.",
        ),
        (
            {"certificate_needed": "Battery storage"},
            Code.CERTIFICATE,
            "Nobody on this visit has the certificate “Battery storage”. Add someone who does.",
        ),
        (
            {"certificate_needed": "Storage",
             "workers": (replace(ANN, certificates={"Storage": dt.date(2026, 11, 29)}), BOB)},
            Code.CERTIFICATE,
            "Nobody on this visit has “Storage” good on Mon Nov. 30. It ran out: Ann Sun Nov. 29.",
        ),
        ({"workers": (ANN,)}, Code.PEOPLE, "Cut-over needs 2 people; 1 would be there."),
        (
            {"workers": (ANN, LEE, SAM)},
            Code.APPRENTICE,
            "Sam would work unsupervised: each licensed journeyman may have 1 apprentice(s) "
            "with them. Add a licensed person.",
        ),
        (
            {"workers": (ANN, replace(BOB, absences=(
                Away(first_day=dt.date(2026, 11, 28), last_day=MONDAY, reason="sick"),)))},
            Code.ABSENT,
            "Bob is away (sick) Sat Nov. 28 – Mon Nov. 30.",
        ),
        (
            {"promised": (at(9), at(11))},
            Code.WINDOW,
            "The customer was promised arrival Mon Nov. 30, 9 a.m. – 11 a.m.; this starts "
            "Mon Nov. 30, 8 a.m.: call them, then change the promise.",
        ),
        (
            {"starts": at(8, day=dt.date(2026, 11, 29)), "ends": at(12, day=dt.date(2026, 11, 29))},
            Code.WORKDAY,
            "Sun Nov. 29 is not a working day.",
        ),
        (
            {"starts": at(6, 30)},
            Code.HOURS,
            "Mon Nov. 30, 6:30 a.m. – noon is outside working hours (7 a.m. – 5 p.m.).",
        ),
        (
            {"before": (Step(visit="Rough-in", starts=at(8), ends=at(9)),)},
            Code.ORDER,
            "Rough-in comes before Cut-over and is planned until Mon Nov. 30, 9 a.m.: "
            "start after that.",
        ),
        (
            {"after": (Step(visit="Trim-out", starts=at(11), ends=at(13)),)},
            Code.ORDER,
            "Trim-out comes after Cut-over and is planned for Mon Nov. 30, 11 a.m.: "
            "end before that.",
        ),
        ({"now": at(8, 1)}, Code.PAST, "Mon Nov. 30, 8 a.m. is in the past."),
    ],
)  # fmt: skip
def test_one_thing_wrong_gives_one_sentence_about_it(changes, code, sentence):
    assert against(replace(GOOD, **changes)) == [(code, sentence)]


@pytest.mark.parametrize(
    "changes",
    [
        {"workers": (replace(ANN, elsewhere=(replace(ELSEWHERE, starts=at(12)),)), BOB)},
        {"workers": (replace(ANN, licences=(Held(grade=JOURNEYMAN, expires_on=MONDAY),)), BOB)},
        {"workers": (ANN, replace(BOB, absences=(
            Away(first_day=dt.date(2026, 12, 1), last_day=dt.date(2026, 12, 3), reason="sick"),)))},
        {"workers": (ANN, LEE)},
        {"promised": (at(8), at(10))},
        {"promised": (at(6), at(8))},
        {"starts": at(7), "ends": at(17)},
        {"before": (Step(visit="Rough-in", starts=at(7), ends=at(8)),)},
        {"after": (Step(visit="Trim-out", starts=at(12), ends=at(13)),)},
        {"now": at(8)},
    ],
)  # fmt: skip
def test_what_just_fits_is_not_refused(changes):
    assert against(replace(GOOD, **changes)) == []


def test_a_visit_over_midnight_runs_out_of_working_hours():
    overnight = replace(GOOD, ends=at(12, day=dt.date(2026, 12, 1)))
    assert [code for code, _ in against(overnight)] == [Code.HOURS]


def test_a_lapsed_journeyman_neither_supervises_nor_works_alone():
    lapsed = replace(BOB, licences=(Held(grade=JOURNEYMAN, expires_on=dt.date(2026, 11, 1)),))
    found = against(replace(GOOD, workers=(ANN, lapsed, LEE)))
    assert [code for code, _ in found] == [Code.APPRENTICE]
    assert "Lee" in found[0][1]


def test_a_place_with_its_own_ratio_is_believed_before_the_common_one():
    ohio = Supervision(state="OH", apprentices_each=2, source="invented")
    assert rule_for("OH", [ohio]) is ohio
    assert rule_for("PA", [ohio]) == ONE_TO_ONE
    assert against(replace(GOOD, workers=(ANN, LEE, SAM), supervision=ohio)) == []


def test_all_reasons_come_at_once():
    sunday = dt.date(2026, 11, 22)
    busy = Engaged(visit="1007 Survey", place="9 Mill Street", starts=at(5, day=sunday), ends=at(9))
    everything = replace(
        GOOD,
        starts=at(6, day=sunday),
        ends=at(7, day=sunday),
        workers=(replace(SAM, elsewhere=(busy,)),),
        holds=("permit issued", "material arrived"),
        certificate_needed="Battery storage",
        promised=(at(8), at(9)),
        after=(Step(visit="Survey", starts=at(6, day=dt.date(2026, 11, 1)), ends=at(7)),),
    )  # fmt: skip
    codes = [code for code, _ in against(everything)]
    assert codes == [
        Code.TWICE, Code.HOLD, Code.HOLD, Code.LICENCE, Code.CERTIFICATE, Code.PEOPLE,
        Code.APPRENTICE, Code.WINDOW, Code.WORKDAY, Code.HOURS, Code.ORDER, Code.PAST,
    ]  # fmt: skip


def test_no_firm_can_allow_what_is_never_allowed():
    twice = replace(GOOD, workers=(replace(ANN, elsewhere=(ELSEWHERE,)), BOB), job_closed=True)
    found = refusals(twice, may_override=frozenset(Code))
    assert {refusal.code for refusal in found} <= NEVER
    assert not any(refusal.can_override for refusal in found)


moments = st.integers(0, 7 * 24 * 4).map(
    lambda quarter: at(0, day=dt.date(2026, 11, 26)) + dt.timedelta(minutes=15 * quarter)
)
asks = st.builds(
    lambda starts, minutes, workers, holds, promised: replace(
        GOOD,
        starts=starts,
        ends=starts + dt.timedelta(minutes=minutes),
        workers=tuple(workers),
        holds=tuple(holds),
        promised=(promised, promised + dt.timedelta(hours=2)) if promised else None,
    ),
    moments,
    st.integers(15, 600),
    st.lists(st.sampled_from([ANN, BOB, LEE, SAM]), max_size=4, unique_by=lambda who: who.name),
    st.lists(st.sampled_from(["permit issued", "material arrived"]), unique=True),
    st.none() | moments,
)


@given(asks, st.frozensets(st.sampled_from(Code)))
def test_each_check_speaks_for_itself_and_the_firm_changes_only_what_may_be_overridden(
    ask, allowed
):
    found = refusals(ask, may_override=allowed)
    assert [(one.code, one.sentence) for one in found] == against(ask)
    assert len(found) == sum(len(list(check(ask))) for check in CHECKS)
    assert all(one.can_override == (one.code in allowed - NEVER) for one in found)
    assert all("{" not in one.sentence for one in found)


@pytest.mark.parametrize("minute", range(0, 24 * 60, 5))
def test_a_clock_reads_as_on_every_other_screen(minute):
    time = dt.time(minute // 60, minute % 60)
    assert clock(time) == dateformat.time_format(time, "P")


@pytest.mark.parametrize("month", range(1, 13))
def test_a_day_reads_as_on_every_other_screen(month):
    day = dt.date(2026, month, 7)
    assert said(day) == dateformat.format(day, "D N j")
