"""Does a circuit's record fill in the question about its conductors as it stands?"""

from __future__ import annotations

import pytest

from panels.services import load
from panels.services.conductors import carried_by, recorded, volts_of
from tests.factories.panels import a_circuit, a_panel

pytestmark = pytest.mark.django_db


def test_the_record_fills_in_what_it_knows_and_leaves_out_the_rest(panel):
    circuit = a_circuit(
        panel, 1, poles=2, rating_a=50, name="Range", wire_size="8", wire_material="cu",
        length_ft=62.5, terminal_c=90, ambient_c=35, serves="equipment",
    )  # fmt: skip
    known = recorded(circuit, carried_by(circuit))
    assert known == {
        "device": 50, "noncontinuous": "40", "volts": "240", "phases": "1", "size": "8",
        "metal": "cu", "sets": 1, "terminal": 75, "length": "62.5 ft", "ambient": "35 C",
        "drop_limit": 3,
    }  # fmt: skip
    assert "receptacles" in recorded(
        a_circuit(panel, 5, name="Bedroom", serves="receptacles"), carried_by(circuit)
    )


@pytest.mark.parametrize(
    ("system", "poles", "volts"),
    [("1ph-240", 1, 120), ("1ph-240", 2, 240), ("3ph-208", 3, 208), ("3ph-480", 1, 277)],
)
def test_the_voltage_follows_from_system_and_poles(site, system, poles, volts):
    panel = a_panel(site, system=system, name=f"Panel {system}")
    assert volts_of(a_circuit(panel, 1, poles=poles, name="A")) == volts


def test_loads_on_record_count_by_their_kind_and_number(panel, technician):
    circuit = a_circuit(panel, 1, poles=2, rating_a=50, name="Heat")
    said = {"site": panel.site, "by": technician, "circuit": circuit, "unit": "VA"}
    load.add_load(**said, kind="heating", name="Baseboard", nameplate=1200, count=2)
    load.add_load(
        **said, kind="vehicle", name="Car", nameplate=4800, count=1, volts=240, continuous=True
    )
    carries = carried_by(circuit)
    assert (carries.noncontinuous, carries.continuous) == (10.0, 20.0)
    assert "Baseboard" in carries.told


def test_without_a_load_it_is_80_percent_of_the_breaker_and_said_so(panel):
    carries = carried_by(a_circuit(panel, 1, rating_a=20, name="Hall"))
    assert (carries.noncontinuous, carries.continuous) == (16.0, 0.0)
    assert "80 % of the breaker" in carries.told
