"""A panel and a busbar described in plain values, and the lines that come of them.

Values: NFPA 70-2017, 705.12(B)(2)(3) [V17]; the outcomes are those of tests/…/test_rules.py.
"""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panels.editions import EDITIONS, edition
from panels.rules.errors import BadDescription
from panels.rules.questions import answer
from panels.rules.working import from_plain, to_plain

SMALL: dict[str, Any] = {
    "panel": {"rating": "200 A", "main": "200 A"},
    "service": {"occupancy": "one_family"},
    "breakers": [
        {"place": "1", "rating": "15 A", "name": "Bedroom lights", "areas": ["bedroom"],
         "protection": "none"},
        {"place": "2,4", "rating": "20 A", "poles": 2, "multiwire": "A", "legs": ["A", "B"],
         "loads": [{"load": "1.2 kVA", "volts": 120, "continuous": True}]},
    ],
}  # fmt: skip


def checked(year: str = "2017", **more: Any) -> Any:
    return answer("check", SMALL | more, edition(year))


def test_a_described_panel_gives_a_line_for_each_finding():
    result = checked()
    assert result.value("afci_1") == "fails"
    assert result.value("mwbc1_legs_multiwire_a") == "passes"
    assert result.value("load1_2_4") == "passes"
    assert result.value("emd") == "does not apply"
    counts = [result.value(key) for key in ("fail", "cannot_tell", "pass", "not_applicable")]
    assert sum(counts) == len(list(result.lines)) - 4


def test_every_line_has_a_key_of_its_own_and_survives_being_kept():
    result = checked("2023", sources=[{"rated": "32 A"}, {"rated": "16 A"}])
    keys = [line.key for line in result.lines]
    assert len(keys) == len(set(keys))
    assert from_plain(json.loads(json.dumps(to_plain(result)))) == result


def test_more_can_be_said_of_the_site():
    result = checked(
        "2020", on="2026-11-25", calculated_load="120 A", available="10 kA",
        home={"bathrooms": 1, "has_garage": False, "service": "200 A"},
        torques=[{"terminal": "lug A", "value": "250 lb-in", "marked": "250 lb-in",
                  "instrument": "No. 4"}],
        breakers_elsewhere=[{"place": "1", "rating": "20 A"}],
    )  # fmt: skip
    assert result.value("torq") == "passes"
    assert result.value("ocp2") == "passes"
    assert result.value("req4") == "does not apply"
    assert result.value("req1") == "cannot tell"


@pytest.mark.parametrize(
    ("wrong", "field", "told"),
    [
        ({"panel": {"rating": "200"}}, "panel.rating", "200"),
        ({"panel": {"rating": "200 V"}}, "panel.rating", "200"),
        ({"panel": {"rating": "20.5 A"}}, "panel.rating", "whole amperes"),
        ({"panel": {"rating": "200 A", "color": "grey"}}, "panel.color", "not a field here"),
        ({"breakers": [{"place": "1"}]}, "breakers[1].rating", "missing"),
        ({"breakers": [{"rating": "20 A"}]}, "breakers[1].place", "missing"),
        ({"breakers": [{"place": "1", "rating": "20 A", "serves": "all"}]}, "breakers[1].serves",
         "receptacles"),
        ({"breakers": [{"place": "1", "rating": "20 A", "areas": ["moon"]}]}, "breakers[1].areas",
         "bedroom"),
        ({"breakers": [{"place": "1", "rating": "20 A", "tied": "yes"}]}, "breakers[1].tied",
         "true or false"),
        ({"breakers": [{"place": "1", "rating": "20 A", "terminal_c": 70}]},
         "breakers[1].terminal_c", "60, 75 or 90"),
        ({"breakers": [{"place": "1", "rating": "20 A"}] * 2}, "breakers", "two breakers"),
        ({"service": {"occupancy": "castle"}}, "service.occupancy", "one_family"),
        ({"on": "yesterday"}, "on", "2026-11-25"),
        ({"panel": None}, "panel", "missing"),
        ({"breakers": "none"}, "breakers", "list of tables"),
        ({"home": 3}, "home", "named fields"),
    ],
)  # fmt: skip
def test_a_mistake_is_named_with_its_field(wrong, field, told):
    with pytest.raises(BadDescription) as fault:
        checked(**wrong)
    assert field in fault.value.fields
    assert told in fault.value.sentence


def busbar(year: str = "2017", **said: Any) -> Any:
    known = {"bus": "200 A", "main": "200 A", "inverter": "32 A"}
    return answer("busbar", known | said, edition(year))


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ({"position": "opposite", "labelled": True}, "allowed by PV2"),
        ({"position": "opposite", "labelled": False}, "not allowed"),
        ({"position": "anywhere"}, "not allowed"),
        ({}, "cannot tell; PV2, PV4 open"),
        ({"position": "centre", "dwelling": True}, "allowed by PV4"),
        ({"position": "centre", "dwelling": False}, "not allowed"),
        ({"main": "150 A"}, "allowed by PV1"),
        ({"position": "anywhere", "breakers": "200 A", "labelled": True}, "allowed by PV3"),
        ({"position": "anywhere", "breakers": "201 A", "labelled": True}, "not allowed"),
        ({"position": "opposite", "labelled": True, "inverter": "32.1 A"}, "not allowed"),
    ],
)
def test_a_busbar_tells_the_ways_that_hold(said, verdict):
    assert busbar(**said).value("verdict") == verdict


def test_power_counts_by_the_system():
    """32 A × 240 V = 7.68 kVA; × 208 V × √3 = 11.53 kVA."""
    assert busbar().value("most_power").m_as("kVA") == pytest.approx(7.68)
    assert busbar(system="3ph-208").value("most_power").m_as("kVA") == pytest.approx(
        11.528, abs=1e-3
    )


def test_without_an_inverter_it_tells_what_is_left():
    result = answer("busbar", {"bus": "200 A", "main": "225 A"}, edition("2017"))
    assert result.value("left").m_as("A") == pytest.approx(15)
    assert result.value("left_by_sum").m_as("A") == 0
    assert "pv1" not in [line.key for line in result.lines]


@given(bus=st.integers(60, 600), main=st.integers(15, 600), year=st.sampled_from(sorted(EDITIONS)))
def test_what_is_left_is_never_below_nothing_and_its_inverter_is_allowed(bus, main, year):
    said = {"bus": f"{bus} A", "main": f"{main} A"}
    most = answer("busbar", said, edition(year)).value("most_inverter").m_as("A")
    assert most >= 0
    if most > 0:
        fits = said | {"inverter": f"{most} A", "position": "opposite", "labelled": True}
        assert "PV2" in answer("busbar", fits, edition(year)).value("verdict")
