"""Sheets as people keep them: one breaker a line, or two columns about the bus."""

from __future__ import annotations

import pytest

from contractor.errors import Invalid
from panels.rules.layout import Frame, Numbering, System
from panels.schedules.rows import read_sheet

FRAME = Frame(spaces=12, numbering=Numbering.ACROSS, system=System.SPLIT_240)


def sheet(*rows, frame=FRAME):
    return read_sheet(list(enumerate(map(list, rows), 1)), frame)


def told(found, frame=FRAME):
    return [
        (said.place.seat(frame).text, said.values["rating_a"], said.values["name"])
        for said in found.breakers
    ]


def test_one_breaker_a_line_under_any_of_the_usual_headers():
    found = sheet(
        ("Ckt #", "Poles", "Breaker", "Load served", "Color"),
        ("1", "2", "50", "Range", "blue"),
        ("2", "", "20 A", "Hall", ""),
        ("4", "1", "20", "Spare", ""),
        ("6", "", "", "Space", ""),
        ("5a", "", "15", "Bath", ""),
    )
    assert told(found) == [
        ("1,3", 50, "Range"), ("2", 20, "Hall"), ("4", 20, ""), ("5a", 15, "Bath"),
    ]  # fmt: skip
    assert [said.values["kind"] for said in found.breakers] == [
        "branch",
        "branch",
        "spare",
        "branch",
    ]
    assert found.empty == [(5, 6)]
    assert found.unused == ("Color",)
    assert not found.problems


def test_the_two_column_sheet_under_a_title():
    found = sheet(
        ("Panel MDP, 200 A, 120/240 V",),
        ("Ckt", "Description", "Breaker", "Breaker", "Description", "Ckt"),
        ("1", "Range", "50/2", "20", "Hall", "2"),
        ("3", '"', '"', "20", "Bath", "4"),
        ("5", "Dryer", "30/2", "", "Space", "6"),
        ("7", "", "", "20", "Spare", "8"),
        ("", "Total connected", "", "", "18 kVA", ""),
    )
    assert told(found) == [
        ("1,3", 50, "Range"), ("2", 20, "Hall"), ("4", 20, "Bath"),
        ("5,7", 30, "Dryer"), ("8", 20, ""),
    ]  # fmt: skip
    assert found.empty == [(5, 6)]
    assert not found.problems
    assert set(found.skipped) == {7}


@pytest.mark.parametrize(
    "second",
    [("3", "", "", ""), ("3", "-", "-", ""), ("3", "Range", "50", ""), ("3", "Range", "", "2")],
)
def test_the_lines_of_a_breakers_further_poles_say_nothing_new(second):
    found = sheet(("Space", "Description", "Breaker A", "Poles"), ("1", "Range", "50", "2"), second)
    assert told(found) == [("1,3", 50, "Range")]
    assert not found.problems


def test_ditto_marks_alone_say_how_many_poles():
    found = sheet(
        ("Space", "Description", "Breaker A"),
        ("1", "Range", "50"),
        ("3", '"', ""),
        ("2", "x", "20"),
    )
    assert told(found) == [("1,3", 50, "Range"), ("2", 20, "x")]


def test_circuit_is_the_number_unless_something_else_is():
    assert told(sheet(("Circuit", "Description", "Amps"), ("1", "Hall", "20"))) == [
        ("1", 20, "Hall")
    ]
    assert told(sheet(("No", "Circuit", "Amps"), ("1", "Hall", "20"))) == [("1", 20, "Hall")]


def test_details_are_read_and_feeders_known():
    found = sheet(
        ("Space", "Breaker A", "Description", "Wire", "Protection", "Multiwire", "Backed up",
         "Shed order", "Length ft", "Notes", "Feeds"),
        ("1,3", "100", "Garage subpanel", "1 Al", "", "", "no", "", "60", "", "Garage"),
        ("2", "20", "Kitchen", "#12 cu", "AFCI/GFCI", "A", "yes", "2", "48.5", "by island", ""),
    )  # fmt: skip
    feeder, kitchen = found.breakers
    assert (feeder.values["kind"], feeder.feeds) == ("feeder", "Garage")
    assert kitchen.values == {
        "rating_a": 20, "name": "Kitchen", "kind": "branch", "wire_size": "12",
        "wire_material": "cu", "protection": "dual", "multiwire": "A", "backed_up": True,
        "shed_order": 2, "length_ft": 48.5, "notes": "by island",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("row", "header", "words"),
    [
        (("1,4", "", "50", "Range", ""), "Space", "not neighbours"),
        (("13", "", "20", "Hall", ""), "Space", "no space 13"),
        (("attic", "", "20", "Hall", ""), "Space", "is not a space"),
        (("", "", "20", "Hall", ""), "Space", "is not a space"),
        (("1", "", "lots", "Hall", ""), "Breaker A", "is not a rating"),
        (("1", "", "", "Hall", ""), "Breaker A", "rating is missing"),
        (("1", "", "", "Spare", ""), "Breaker A", "rating is missing"),
        (("1", "many", "20", "Hall", ""), "Poles", "not a number of poles"),
        (("1,3", "1", "20", "Hall", ""), "Poles", "contradict"),
        (("1", "1", "50/2", "Hall", ""), "Poles", "contradict"),
        (("1", "3", "20", "Hall", ""), "Space", "needs 3 legs"),
        (("1", "", "20", "Hall", "romex"), "Wire", "is not a conductor"),
    ],
)
def test_a_bad_line_is_named_with_its_column_and_reason(row, header, words):
    found = sheet(("Space", "Poles", "Breaker A", "Description", "Wire"), row)
    (problem,) = found.problems
    assert (problem.line, problem.header) == (2, header)
    assert words in problem.sentence


def test_a_sheet_without_the_needed_columns_is_refused():
    with pytest.raises(Invalid, match="Space”, “Breaker A”, “Description"):
        sheet(("Name", "Phone"), ("Avery", "614-555-0142"))
