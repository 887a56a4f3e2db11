"""A schedule is taken in whole or not at all, and the same one again changes nothing."""

from __future__ import annotations

import datetime as dt
import io

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from contractor.errors import Invalid, Refused
from contractor.services.imports import Verb
from panels.models import Circuit
from panels.queries import schedule as lists
from panels.rules.layout import LayoutError
from panels.services import circuits, schedule
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_circuit, a_full_house, a_panel, a_recorder

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 11, 12, 15, 0, tzinfo=dt.UTC)
HEAD = "Space,Poles,Breaker A,Description\n"


def upload(panel, text, name="schedule.csv"):
    data = text if isinstance(text, bytes) else text.encode()
    return schedule.upload(panel=panel, file=io.BytesIO(data), name=name, by=a_recorder(), now=NOW)


def look(panel, text):
    return schedule.plan(panel, schedule.lines_of(upload(panel, text)))


def take(panel, text):
    kept = upload(panel, text)
    return schedule.take_in(uploaded=kept, panel=panel, by=a_recorder(), now=NOW)


def sitting(panel):
    return {row.seat_in(panel.frame).text: str(row) for row in Circuit.objects.filter(panel=panel)}


def test_a_list_is_shown_first_and_then_taken_in():
    panel = a_panel()
    a_circuit(panel, 2, name="Hall")
    a_circuit(panel, 4, name="Bath")
    text = HEAD + "1,2,50,Range\n2,1,20,Hall and stairs\n4,1,20,Bath\n"
    found = look(panel, text)
    assert [(step.verb, step.seat.text) for step in found.steps] == [
        (Verb.ADD, "1,3"), (Verb.CHANGE, "2"), (Verb.SAME, "4"),
    ]  # fmt: skip
    assert [(c.header, c.was, c.now) for c in found.steps[1].changes] == [
        ("Description", "Hall", "Hall and stairs")
    ]
    assert sitting(panel) == {"2": "Hall", "4": "Bath"}
    kept = take(panel, text)
    assert kept.outcome == {"add": 1, "change": 1, "same": 1}
    assert sitting(panel) == {"1,3": "Range", "2": "Hall and stairs", "4": "Bath"}


def test_the_same_list_again_changes_nothing():
    panel = a_panel()
    text = HEAD + "1,2,50,Range\n2,1,20,Spare\n5a,1,15,Hall\n6,,,Space\n"
    take(panel, text)
    revs = dict(panel.circuits.values_list("pk", "rev"))
    assert look(panel, text).changes_nothing
    take(panel, text)
    assert dict(panel.circuits.values_list("pk", "rev")) == revs


def test_one_bad_line_and_nothing_is_taken_in():
    panel = a_panel()
    a_circuit(panel, 10, name="Furnace")
    text = HEAD + '1,2,50,Range\n3,1,20,Hall\n"1,4",,30,Dryer\n8,2,30,Heat\n7,1,20,\n'
    found = look(panel, text)
    told = [(problem.line, problem.header, problem.sentence) for problem in found.problems]
    assert [(line, header) for line, header, _ in told] == [
        (3, "Space"), (4, "Space"), (5, "Space"), (6, "Description"),
    ]  # fmt: skip
    assert told[0][2] == "Line 2 puts Range into 1,3 already."
    assert "not neighbours" in told[1][2]
    assert told[2][2] == "Furnace sits in 10 on record. Move or remove it first."
    with pytest.raises(Invalid, match="4 lines cannot be used, so nothing was taken in"):
        take(panel, text)
    assert sitting(panel) == {"10": "Furnace"}


def test_breakers_may_change_places_within_one_list():
    panel = a_panel()
    a_circuit(panel, 1, poles=2, name="Range", rating_a=50)
    a_circuit(panel, 5, name="Hall")
    take(panel, HEAD + "1,1,20,Hall\n3,1,20,Bath\n5,2,50,Range\n")
    assert sitting(panel) == {"1": "Hall", "3": "Bath", "5,7": "Range"}


def test_a_list_taken_in_is_not_taken_in_twice():
    panel = a_panel()
    kept = take(panel, HEAD + "1,1,20,Hall\n")
    with pytest.raises(Refused, match="taken in already"):
        schedule.take_in(uploaded=kept, panel=panel, by=a_recorder(), now=NOW)


def test_what_happened_meanwhile_is_looked_at_again():
    panel = a_panel()
    kept = upload(panel, HEAD + "1,1,20,Hall\n")
    a_circuit(panel, 1, poles=2, name="Range", rating_a=50)
    circuits.change_circuit(circuit=panel.circuits.get(), space=41 - 2, by=a_recorder())
    a_circuit(panel, 1, half="b", name="Bath")
    with pytest.raises(Invalid, match="1 line cannot be used"):
        schedule.take_in(uploaded=kept, panel=panel, by=a_recorder(), now=NOW)


def test_a_space_called_empty_keeps_what_is_there_and_says_so():
    panel = a_panel()
    a_circuit(panel, 2, name="Hall")
    found = look(panel, HEAD + "1,1,20,Bath\n2,,,Space\n,,,Total\n")
    assert found.notes == [
        "Lines that name neither a space nor a rating were passed over: 4.",
        "Line 3 calls space 2 empty; Hall is there and stays.",
    ]


def test_a_feeder_in_a_list_feeds_the_panel_it_names():
    main = a_panel()
    sub = a_panel(main.site, name="Garage panel", rating_a=100)
    text = 'Space,Poles,Breaker A,Description,Feeds\n1,2,100,Garage feeder,"garage PANEL"\n'
    take(main, text)
    sub.refresh_from_db()
    assert sub.fed_from.space == 1
    assert sub.fed_from.kind == "feeder"
    assert look(main, text).changes_nothing
    wrong = look(main, text.replace("garage PANEL", "Shop"))
    assert "no panel “Shop” here" in wrong.problems[0].sentence


def test_a_list_without_kinds_leaves_the_kinds_on_record():
    main = a_panel()
    sub = a_panel(main.site, name="Garage panel", rating_a=100)
    take(main, "Space,Poles,Breaker A,Description,Feeds\n1,2,100,Garage,Garage panel\n")
    a_circuit(main, 6, kind="spare", name="")
    found = take(main, "No,Description,Breaker\n1,Garage,90/2\n6,Bath,20\n8,Sub feeder,60\n")
    sub.refresh_from_db()
    assert (sub.fed_from.kind, sub.fed_from.rating_a) == ("feeder", 90)
    assert main.circuits.get(space=6).kind == "branch"
    assert main.circuits.get(space=8).kind == "feeder"
    assert found.outcome["change"] == 2


def test_a_workbook_reads_like_a_csv():
    book = openpyxl.Workbook()
    for row in (
        ["Panel P1"],
        ["Ckt", "Description", "Breaker"],
        [1, "Range", "50/2"],
        [2, "Hall", 20],
    ):
        book.active.append(row)
    file = io.BytesIO()
    book.save(file)
    panel = a_panel()
    take(panel, file.getvalue())
    assert sitting(panel) == {"1,3": "Range", "2": "Hall"}


def test_what_is_written_out_comes_back_unchanged():
    main, sub = a_full_house()
    a_circuit(main, 31, poles=2, half="a", rating_a=30, name="Heat, den", notes="tight lugs")
    details = {"wire_size": "12", "wire_material": "cu", "protection": "dual", "length_ft": 41.5}
    details |= {"backed_up": True, "shed_order": 3, "name": "=SUM(A1:A9)"}
    a_circuit(main, 31, poles=2, half="b", rating_a=20, **details)
    a_circuit(main, 35, kind="spare", name="old dryer")
    a_circuit(main, 34, kind="spare", name="Spare")
    a_circuit(main, 36, name="Spare")
    a_circuit(main, 37, name="Space")
    data = lists.schedule_list(main)
    assert b"'=SUM" in data
    assert b",=SUM" not in data
    found = look(main, data)
    assert found.problems == []
    assert found.changes_nothing
    assert len(found.steps) == main.circuits.count()
    assert look(sub, lists.schedule_list(sub)).changes_nothing


def test_the_example_can_be_taken_in():
    panel = a_panel()
    a_panel(panel.site, name="Garage panel", rating_a=100)
    take(panel, lists.example())
    assert len(sitting(panel)) == 7


def test_a_list_of_something_else_is_refused_at_once():
    with pytest.raises(Invalid, match="No row of the list has the columns"):
        upload(a_panel(), "Name,Phone\nAvery,614-555-0142\n")


class AnySchedule(TestCase):
    """Whatever a panel holds, its own list read back changes nothing."""

    circuit = st.tuples(
        st.integers(1, 12),
        st.integers(1, 2),
        st.sampled_from(["", "a", "b"]),
        st.sampled_from(["branch", "feeder", "source", "spare"]),
        st.text(st.characters(codec="ascii", categories=["L", "N", "P", "S"]), max_size=12),
        st.booleans(),
    )

    @settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
    @given(wishes=st.lists(circuit, max_size=10), numbering=st.sampled_from(["across", "down"]))
    def test_there_and_back(self, wishes, numbering) -> None:
        panel = a_panel(SiteFactory(), spaces=12, numbering=numbering)
        for space, poles, half, kind, name, backed_up in wishes:
            try:
                a_circuit(
                    panel, space, poles=poles, half=half, kind=kind, name=name,
                    backed_up=backed_up,
                )  # fmt: skip
            except (LayoutError, Refused):
                continue
        if panel.circuits.exists():
            found = look(panel, lists.schedule_list(panel))
            assert found.problems == []
            assert found.changes_nothing
            assert len(found.steps) == panel.circuits.count()
