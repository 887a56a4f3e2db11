"""A measurement asked about in plain values."""

from __future__ import annotations

import pytest

from panels.editions import edition
from panels.rules import questions
from panels.rules.errors import BadDescription

VOLTAGE = {"kind": "voltage", "value": "121.5 V", "system": "1ph-240", "between": "A-N"}
INSULATION = {"kind": "insulation", "value": "30 megohm", "test": "500 V", "rated": "250 V"}


def answer(plain):
    return questions.answer("measurement", plain, edition("2017"))


def test_every_criterion_is_a_line_with_its_verdict():
    told = answer(VOLTAGE)
    assert told.value("comar") == told.value("illinois") == "within"
    assert "from memory" in told.line("ansi_b_use").confirm
    assert [line.key for line in answer(VOLTAGE | {"criterion": "comar"}).lines] == [
        "value", "comar",
    ]  # fmt: skip


def test_temperature_shows_both_values():
    told = answer(INSULATION | {"temperature": "41 F"})
    assert told.value("value").m_as("Mohm") == 30
    assert told.value("corrected").m_as("Mohm") == pytest.approx(10.607, abs=0.001)
    assert told.value("neta") == "outside"
    assert any("disconnect electronics" in one for one in told.cautions)


@pytest.mark.parametrize(
    ("plain", "field"),
    [
        ({"kind": "colour"}, "kind"),
        ({**VOLTAGE, "value": "121.5 A"}, "value"),
        ({**VOLTAGE, "value": 121.5}, "value"),
        ({**VOLTAGE, "between": "A-C"}, "between"),
        ({**VOLTAGE, "system": "9ph"}, "system"),
        ({**VOLTAGE, "criterion": "neta"}, "criterion"),
        ({**VOLTAGE, "colour": 1}, "colour"),
        ({"kind": "voltage", "value": "9 V", "nominal": "9"}, "nominal"),
        ({**INSULATION, "test": None}, "test"),
        ({**INSULATION, "temperature": "5 V"}, "temperature"),
        ({"kind": "torque", "value": "25 V"}, "value"),
        ({"kind": "torque", "value": "25 lb-in", "marked": "0 lb-in"}, "marked"),
        ({"kind": "unbalance", "values": ["1 V", "2 V"]}, "values"),
        ({"kind": "unbalance", "values": ["0 V", "0 V", "0 V"]}, "values"),
    ],
)
def test_a_fault_is_named_by_its_field(plain, field):
    with pytest.raises(BadDescription) as fault:
        answer(plain)
    assert fault.value.field == field
