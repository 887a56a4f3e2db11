"""Readings prove the line they were taken for, all of a batch or none, once."""

import uuid

import pytest

from contractor.errors import Invalid, Refused
from jobs.models import CloseOutLine, LineReading, Visit
from jobs.planning.words import CloseOutKind
from jobs.services import answers, measuring
from panels.models import Reading
from panels.services.readings import remove_reading
from tests.factories import field as make_field
from tests.factories import jobs as make
from tests.factories.panels import a_panel

pytestmark = pytest.mark.django_db
NOW = make.at(9)
VOLTS = {"A-N": 121.4, "B-N": 121.1, "A-B": 242.6}


@pytest.fixture
def visit() -> Visit:
    make.firm()
    return make_field.under_way(of="Panel replacement with subpanel")


@pytest.fixture
def panel(visit):
    return make_field.house(visit.job)


def measure(visit, panel, values=VOLTS, *, asks=CloseOutKind.VOLTAGE, **said):
    line = said.pop("line", None) or make_field.line(visit.job, asks)
    said = {"how": {"instrument": "tester 2"}, "now": NOW, "visit": visit} | said
    return measuring.measure(
        line=line, panel=panel, values=values, by=make_field.worker(visit), **said
    )


def test_a_batch_is_kept_with_its_instrument_visit_and_line(visit, panel):
    made = measure(visit, panel)
    assert {reading.between: reading.value for reading in made} == VOLTS
    assert {reading.visit for reading in made} == {visit.pk}
    assert {reading.instrument for reading in made} == {"tester 2"}
    line = make_field.line(visit.job, CloseOutKind.VOLTAGE)
    assert line.proofs.count() == 3
    assert (line.done_by, line.done_at) == (make_field.worker(visit), NOW)


def test_two_lines_that_ask_for_volts_keep_their_readings_apart(visit, panel):
    main, sub = visit.job.close_out.filter(asks=CloseOutKind.VOLTAGE)
    measure(visit, panel, line=main)
    sub.refresh_from_db()
    assert (sub.proofs.count(), sub.done_at) == (0, None)


def test_the_same_batch_sent_again_records_nothing_new(visit, panel):
    batch = uuid.uuid4()
    first = measure(visit, panel, batch=batch)
    again = measure(visit, panel, batch=batch)
    assert [reading.pk for reading in first] == [reading.pk for reading in again]
    assert Reading.objects.count() == LineReading.objects.count() == 3
    with pytest.raises(Refused) as refused:
        measure(visit, panel, {**VOLTS, "A-N": 120}, batch=batch)
    assert refused.value.code == "already_there"


def test_one_value_that_cannot_be_leaves_the_whole_batch_unwritten(visit, panel):
    with pytest.raises(Invalid) as refused:
        measure(visit, panel, {"A-N": 121, "B-N": 12100})
    assert list(refused.value.fields) == ["B-N"]
    assert not Reading.objects.exists()
    assert make_field.line(visit.job, CloseOutKind.VOLTAGE).done_at is None


def test_a_resistance_needs_its_test_voltage(visit, panel):
    with pytest.raises(Invalid) as refused:
        measure(visit, panel, {"A-G": 900}, asks=CloseOutKind.INSULATION)
    assert list(refused.value.fields) == ["test_v"]


def test_nothing_typed_is_nothing_measured(visit, panel):
    with pytest.raises(Invalid) as refused:
        measure(visit, panel, {})
    assert refused.value.code == "nothing_measured"


def test_another_sites_panel_and_another_kind_of_line_are_refused(visit, panel):
    with pytest.raises(Refused) as refused:
        measure(visit, a_panel())
    assert refused.value.code == "other_site"
    with pytest.raises(Refused) as refused:
        measure(visit, panel, asks=CloseOutKind.CHECK)
    assert refused.value.code == "other_proof"


def test_what_does_not_apply_is_not_measured(visit, panel):
    line = make_field.line(visit.job, CloseOutKind.VOLTAGE)
    who = {"by": make_field.worker(visit), "now": NOW}
    answers.does_not_apply(line=line, because="not energised yet", **who)
    with pytest.raises(Refused) as refused:
        measure(visit, panel, line=line)
    assert refused.value.code == "does_not_apply"


def test_a_reading_struck_out_can_be_put_back_as_it_was(visit, panel):
    (reading,) = measure(visit, panel, {"A-N": 121.4})
    line = make_field.line(visit.job, CloseOutKind.VOLTAGE)
    by = make_field.worker(visit)
    facts = measuring.strike_reading(line=line, reading=reading, by=by)
    line.refresh_from_db()
    assert (Reading.objects.count(), line.done_at) == (0, None)
    assert measuring.strike_reading(line=line, reading=reading, by=by) == {}
    back = measuring.put_back_reading(line=line, facts=facts, by=by, now=make.at(10))
    same = ("pk", "value", "between", "instrument", "taken_at", "visit", "panel_id")
    assert [getattr(back, name) for name in same] == [getattr(reading, name) for name in same]
    line.refresh_from_db()
    assert line.done_at == make.at(10)
    again = measuring.put_back_reading(line=line, facts=facts, by=by, now=NOW)
    assert (again.pk, Reading.objects.count()) == (back.pk, 1)


def test_a_reading_taken_out_at_the_panel_no_longer_proves_the_line(visit, panel):
    (reading,) = measure(visit, panel, {"A-N": 121.4})
    remove_reading(reading=reading, by=make_field.worker(visit))
    assert not LineReading.objects.exists()


def test_readings_sent_for_one_line_do_not_answer_another(visit, panel):
    batch = uuid.uuid4()
    measure(visit, panel, batch=batch)
    other = CloseOutLine.objects.create(job=visit.job, label="Garage panel", asks="voltage")
    with pytest.raises(Refused) as refused:
        measure(visit, panel, batch=batch, line=other)
    assert refused.value.code == "already_there"
    other.refresh_from_db()
    assert other.done_at is None
