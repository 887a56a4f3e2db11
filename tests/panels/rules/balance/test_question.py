"""Leg balance asked about in plain values."""

from __future__ import annotations

import pytest

from panels.editions import edition
from panels.rules import questions
from panels.rules.errors import BadDescription
from panels.rules.working import from_plain, to_plain

PANEL = {"spaces": 12, "system": "1ph-240", "tandem": "9-12"}
CIRCUITS = [
    {"name": "Range", "space": 1, "poles": 2, "load": "8 kVA"},
    {"name": "Kitchen", "space": 5, "load": "1500 VA"},
    {"name": "Freezer", "space": 6, "load": "900 VA", "locked": True},
    {"name": "Lights", "space": 9, "half": "a", "load": "300 VA"},
    {"name": "Bath", "space": 9, "half": "b"},
]


def answer(**changed):
    plain = {"panel": PANEL, "circuits": CIRCUITS} | changed
    return questions.answer("balance", plain, edition("2017"))


def test_the_working_tells_before_after_bound_and_each_move():
    told = answer()
    assert told.value("imbalance_before").m_as("VA") == 2700
    assert told.value("imbalance_after").m_as("VA") == told.value("bound").m_as("VA") == 300
    assert told.value("moves") == told.value("moves_bound")
    moves = [line for line in told.lines if line.key.startswith("move_")]
    assert len(moves) >= told.value("moves")
    assert told.line("unrecorded").note == "Bath."
    assert told.line("locked").note == "Freezer."
    assert from_plain(to_plain(told)) == told


def test_fewer_moves_leave_more():
    told = answer(most_moves=0)
    assert told.value("moves") == 0
    assert told.value("imbalance_after").m_as("VA") == 2700
    assert "with at most 0 moves" in told.line("bound").note


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"circuits": []}, "circuits"),
        ({"panel": {**PANEL, "system": "x"}}, "panel.system"),
        ({"panel": {**PANEL, "spaces": 200}}, "panel.spaces"),
        ({"panel": {**PANEL, "numbering": "x"}}, "panel.numbering"),
        ({"panel": {**PANEL, "tandem": "x"}}, "panel.tandem"),
        ({"circuits": [{"name": "A", "space": 99}]}, "circuits[1].space"),
        ({"circuits": [{"name": "A", "space": 1, "load": "1 kW"}]}, "circuits[1].load"),
        ({"circuits": [{"name": "A", "space": 1, "half": "c"}]}, "circuits[1].half"),
        ({"circuits": [{"name": "A", "space": 1, "poles": 4}]}, "circuits[1].poles"),
        ({"circuits": [{"name": "A", "space": 1}, {"name": "B", "space": 1}]}, "circuits[2].space"),
        ({"colour": 1}, "colour"),
    ],
)
def test_a_fault_is_named_by_its_field(changed, field):
    with pytest.raises(BadDescription) as fault:
        answer(**changed)
    assert fault.value.field == field
