"""What is missing is named, each thing once; what is only worth knowing stands apart."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.planning.close_out import (
    About,
    Case,
    Line,
    PanelStanding,
    Step,
    answered,
    missing,
    notices,
)
from jobs.planning.words import CloseOutKind, InspectionState, PermitState, VisitState

GIVEN = {
    CloseOutKind.CHECK: {"ticked": True},
    CloseOutKind.TEXT: {"note": "Neutral made up again."},
    CloseOutKind.PHOTO: {"photos": 1},
    CloseOutKind.VOLTAGE: {"readings": 3},
    CloseOutKind.INSULATION: {"readings": 1},
    CloseOutKind.TORQUE: {"readings": 1},
    CloseOutKind.DIRECTORY: {},
    CloseOutKind.SIGNATURE: {},
}
ISSUED = PanelStanding(key="p1", name="Main panel", revision=2)


def line(asks: CloseOutKind, **said) -> Line:
    return Line(key=f"line-{asks}", label=f"Line {asks}", asks=asks, **said)


def step(state: str, name: str = "Cut-over") -> Step:
    return Step(key="s", name=name, state=state, state_name=state.replace("_", " "))


def full() -> Case:
    return Case(
        lines=tuple(line(asks, **given) for asks, given in GIVEN.items()),
        panels=(ISSUED,),
        visits=(step(VisitState.DONE), step(VisitState.CANCELLED)),
        inspections=(step(InspectionState.PASSED),),
        permits=(step(PermitState.FINALED),),
        signed=True,
    )


def empty() -> Case:
    return Case(lines=tuple(line(asks) for asks in GIVEN))


def test_a_job_with_everything_lacks_nothing_and_warns_of_nothing():
    assert missing(full()) == []
    assert notices(full()) == []


def test_every_unanswered_line_is_named_in_its_own_words():
    gaps = missing(empty())
    assert [gap.key for gap in gaps] == [f"line-{asks}" for asks in GIVEN]
    assert len({gap.sentence for gap in gaps}) == len(GIVEN)
    assert all(f"“Line {asks}”" in gap.sentence for gap, asks in zip(gaps, GIVEN, strict=True))


@pytest.mark.parametrize("asks", list(GIVEN))
def test_taking_one_answer_away_names_exactly_that_line(asks):
    case = full()
    case = replace(
        case,
        lines=tuple(line(one.asks) if one.asks is asks else one for one in case.lines),
        signed=asks is not CloseOutKind.SIGNATURE,
        panels=() if asks is CloseOutKind.DIRECTORY else case.panels,
    )
    assert [gap.key for gap in missing(case)] == [f"line-{asks}"]


@pytest.mark.parametrize("asks", list(GIVEN))
def test_what_may_be_left_out_or_does_not_apply_is_not_missed(asks):
    assert missing(Case(lines=(line(asks, required=False),))) == []
    assert missing(Case(lines=(line(asks, does_not_apply=True, note="none here"),))) == []


def test_blanks_are_no_words():
    blank = line(CloseOutKind.TEXT, note=" \n ")
    assert not answered(blank, Case(lines=(blank,)))


@pytest.mark.parametrize("state", [VisitState.UNPLANNED, VisitState.PLANNED, VisitState.UNDER_WAY])
def test_a_visit_that_is_not_over_stands_in_the_way(state):
    (gap,) = missing(replace(full(), visits=(step(state, "Trim-out"),)))
    assert gap.about is About.VISIT
    assert gap.sentence.startswith("Trim-out ")


def test_a_changed_panel_must_have_its_directory_issued_and_is_named_once():
    changed = replace(ISSUED, pending=True)
    new = PanelStanding(key="p2", name="Subpanel", pending=True)
    gaps = missing(replace(full(), panels=(changed, new)))
    assert [gap.sentence for gap in gaps] == [
        "Main panel has changed since revision 2 of its directory. Issue the next one.",
        "Subpanel has no directory yet. Issue it.",
    ]
    assert {gap.about for gap in gaps} == {About.DIRECTORY}


def test_a_changed_panel_stands_in_the_way_even_where_no_line_asks_for_a_directory():
    case = Case(panels=(replace(ISSUED, pending=True),))
    assert [gap.about for gap in missing(case)] == [About.DIRECTORY]


def test_a_directory_that_someone_said_does_not_apply_is_only_a_notice():
    said = line(CloseOutKind.DIRECTORY, does_not_apply=True, note="no circuit changed")
    case = Case(lines=(said,), panels=(replace(ISSUED, pending=True),))
    assert missing(case) == []
    assert [gap.about for gap in notices(case)] == [About.DIRECTORY]


def test_a_panel_nobody_touched_may_stay_without_a_directory():
    untouched = PanelStanding(key="p2", name="Barn panel")
    assert missing(replace(full(), panels=(ISSUED, untouched))) == []


@pytest.mark.parametrize("state", [InspectionState.DUE, InspectionState.FAILED])
def test_an_inspection_not_passed_is_said_but_does_not_stand_in_the_way(state):
    case = replace(full(), inspections=(step(state, "Final"),))
    assert missing(case) == []
    assert [gap.sentence for gap in notices(case)] == [f"Inspection Final is {state}, not passed."]


def test_a_permit_not_finaled_is_said_with_its_number():
    case = replace(full(), permits=(step(PermitState.ISSUED, "EL-26-0317"),))
    assert missing(case) == []
    (said,) = notices(case)
    assert said.sentence == "The permit is issued, not finaled. Number: EL-26-0317."


def test_a_reading_outside_its_published_value_is_said():
    case = replace(full(), outside=("Main panel, A-N: 131 V is outside.",))
    assert missing(case) == []
    assert [gap.about for gap in notices(case)] == [About.READING]


flags = st.fixed_dictionaries(
    {
        "asks": st.sampled_from(list(CloseOutKind)),
        "required": st.booleans(),
        "does_not_apply": st.booleans(),
        "note": st.sampled_from(["", "words"]),
        "ticked": st.booleans(),
        "photos": st.integers(0, 2),
        "readings": st.integers(0, 2),
    }
)


@given(rows=st.lists(flags, max_size=6), signed=st.booleans(), pending=st.booleans())
def test_each_required_unanswered_line_is_missing_or_its_panel_is(rows, signed, pending):
    lines = tuple(Line(key=str(n), label=str(n), **row) for n, row in enumerate(rows))
    case = Case(lines=lines, signed=signed, panels=(replace(ISSUED, pending=pending),))
    gaps = missing(case)
    named = {gap.key for gap in gaps if gap.about is About.LINE}
    for one in lines:
        lacking = one.required and not answered(one, case)
        by_panel = one.asks is CloseOutKind.DIRECTORY and pending
        assert (one.key in named) == (lacking and not by_panel)
    assert len(gaps) == len({(gap.about, gap.key) for gap in gaps})
