"""Are questions about conductors answered over the API, without anything being stored?"""

from __future__ import annotations

from http import HTTPStatus

import pytest

from panels.models import Calculation

pytestmark = pytest.mark.django_db
PREVIEW = "/api/v1/calculations/preview"
INPUTS = {
    "conductor": {"metal": "cu", "continuous": "48 A", "length": "150 ft", "volts": "240 V"},
    "ampacity": {"size": "4/0", "metal": "cu", "insulation": "90 C", "terminal": 75, "bundled": 6},
    "voltage_drop": {"current": "16 A", "ohms": "1.2 ohm/kft", "length": "50 ft"},
    "equipment_grounding": {"device": "40 A", "metal": "cu"},
    "grounding_electrode": {"service_size": "4/0", "service_metal": "al"},
}


def ask(phone, method, **changes):
    body = {"method": method, "edition": "2017", "inputs": {**INPUTS[method], **changes}}
    return phone.post(PREVIEW, body, format="json")


@pytest.mark.parametrize(
    ("method", "key", "shown"),
    [
        ("conductor", "conductor", "4 AWG copper"),  # 60 A needed of the 60 °C column
        ("ampacity", "ampacity", "208 A"),
        ("voltage_drop", "drop", "1.92 V"),
        ("equipment_grounding", "equipment_grounding", "10 AWG copper"),
        ("grounding_electrode", "grounding_electrode", "4 AWG copper"),
    ],
)
def test_each_question_is_answered_with_its_lines(phone, method, key, shown):
    answer = ask(phone, method)
    assert answer.status_code == HTTPStatus.OK
    lines = [line for section in answer.json()["sections"] for line in section["lines"]]
    assert {line["key"]: line["shown"] for line in lines}[key] == shown
    assert answer.json()["cautions"]
    assert not Calculation.objects.exists()


def test_a_slip_names_its_field(phone):
    answer = ask(phone, "conductor", length=150)
    assert answer.status_code == HTTPStatus.UNPROCESSABLE_ENTITY
    assert "length" in str(answer.json())
    outside = ask(phone, "equipment_grounding", device="6001 A")
    assert outside.status_code == HTTPStatus.UNPROCESSABLE_ENTITY
    assert "Table 250.122" in str(outside.json())
