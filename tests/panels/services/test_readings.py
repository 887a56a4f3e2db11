"""Readings that can be are kept; slips of the finger are refused at their field."""

from __future__ import annotations

import datetime as dt

import pytest

from contractor.errors import Invalid, Stale
from panels.services import readings
from tests.factories.panels import a_circuit, a_panel, a_recorder

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 11, 12, 15, 0, tzinfo=dt.UTC)


def record(panel, **said):
    return readings.record_reading(panel=panel, by=a_recorder(), now=NOW, **said)


def test_a_reading_is_kept_with_who_and_when():
    panel = a_panel()
    taken = record(panel, kind="voltage", value=121.4, between="A-N", instrument="Meter 3")
    assert (taken.value, taken.taken_at, taken.rev) == (121.4, NOW, 1)
    readings.remove_reading(by=a_recorder(), reading=taken, rev=1)
    assert not panel.readings.exists()


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"kind": "voltage", "value": 121, "between": ""}, "between"),
        ({"kind": "voltage", "value": 121, "between": "C-N"}, "between"),
        ({"kind": "voltage", "value": 12100, "between": "A-N"}, "value"),
        ({"kind": "voltage", "value": -1, "between": "A-N"}, "value"),
        ({"kind": "insulation", "value": 500, "between": "A-G"}, "test_v"),
        ({"kind": "insulation", "value": 500, "between": "A-G", "test_v": 5}, "test_v"),
        ({"kind": "insulation", "value": 500, "between": "x", "test_v": 500}, "between"),
        ({"kind": "torque", "value": 250, "between": ""}, "between"),
        ({"kind": "torque", "value": 0, "between": "Main lug A"}, "value"),
        ({"kind": "torque", "value": 90, "between": "A", "temperature_c": 300}, "temperature_c"),
        ({"kind": "colour", "value": 1}, "kind"),
        (
            {"kind": "voltage", "value": 120, "between": "A-N", "taken_at": NOW + dt.timedelta(1)},
            "taken_at",
        ),
    ],
)
def test_a_reading_that_cannot_be_is_refused_at_its_field(said, field):
    panel = a_panel()
    with pytest.raises(Invalid) as refused:
        record(panel, **said)
    assert field in refused.value.fields
    assert not panel.readings.exists()


def test_a_reading_belongs_to_a_circuit_of_its_panel_and_goes_by_revision():
    panel = a_panel()
    with pytest.raises(Invalid, match="circuit of this panel"):
        record(panel, kind="torque", value=25, between="Lug", circuit=a_circuit(a_panel()))
    taken = record(panel, kind="torque", value=25, between="Lug", circuit=a_circuit(panel))
    with pytest.raises(Stale):
        readings.remove_reading(by=a_recorder(), reading=taken, rev=7)
