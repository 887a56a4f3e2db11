"""Readings against published values: service voltages of COMAR 20.50.07.02 [V], insulation
resistance of ANSI/NETA MTS-2019 Table 100.1 [V]. What can be typed: common practice, no source."""

from __future__ import annotations

import pytest

from panels.rules.layout import System
from panels.rules.readings import COMAR, NETA, Finding, conductors, fault, judge, pairs


def test_pairs_are_those_of_the_system():
    assert pairs(System.SPLIT_240) == ("A-N", "B-N", "A-B", "N-G")
    assert pairs(System.WYE_208) == ("A-N", "B-N", "C-N", "A-B", "A-C", "B-C", "N-G")
    assert conductors(System.SPLIT_240) == ("A-G", "B-G", "N-G", "A-N", "B-N", "A-B")


@pytest.mark.parametrize(
    ("system", "between", "least", "most"),
    [
        (System.SPLIT_240, "A-N", 114, 126),
        (System.SPLIT_240, "A-B", 228, 252),
        (System.WYE_208, "C-N", 114, 126),
        (System.WYE_208, "B-C", 197, 219),
        (System.WYE_208_2LEG, "A-B", 197, 219),
        (System.WYE_480, "A-N", 249, 291),
        (System.WYE_480, "A-C", 432, 504),
    ],
)
def test_service_voltage_limits(system, between, least, most):
    def found(value):
        told = judge(kind="voltage", value=value, between=between, system=system)
        assert told.source == COMAR
        return told.finding

    assert found(least) == found(most) == Finding.WITHIN
    assert found(least - 0.1) == found(most + 0.1) == Finding.OUTSIDE


@pytest.mark.parametrize(
    ("system", "between"), [(System.DELTA_240, "B-N"), (System.SPLIT_240, "N-G")]
)
def test_what_no_publication_covers_is_not_judged(system, between):
    told = judge(kind="voltage", value=120, between=between, system=system)
    assert (told.finding, told.source) == (Finding.UNJUDGED, "")


@pytest.mark.parametrize(
    ("system", "test_v", "least"), [(System.SPLIT_240, 500, 25), (System.WYE_480, 1000, 100)]
)
def test_insulation_resistance(system, test_v, least):
    def found(value, at):
        return judge(kind="insulation", value=value, between="A-G", system=system, test_v=at)

    assert found(least, test_v).finding == Finding.WITHIN
    assert found(least - 0.1, test_v).finding == Finding.OUTSIDE
    assert found(least, test_v).source == NETA
    assert found(least, 250).finding == Finding.UNJUDGED


def test_insulation_says_that_it_is_not_corrected():
    told = judge(
        kind="insulation", value=30, between="A-G", system=System.SPLIT_240, test_v=500,
        temperature_c=5,
    )  # fmt: skip
    assert "not corrected for temperature, measured at 5 °C" in told.sentence


@pytest.mark.parametrize(
    ("value", "marked", "finding", "words"),
    [
        (250, 250, Finding.WITHIN, "As marked"),
        (275, 250, Finding.OUTSIDE, "10% over"),
        (200, 250, Finding.OUTSIDE, "20% under"),
        (250, None, Finding.UNJUDGED, "marked on the equipment"),
    ],
)
def test_torque_is_compared_with_the_marked_value(value, marked, finding, words):
    told = judge(
        kind="torque", value=value, between="Lug", system=System.SPLIT_240, marked_value=marked
    )
    assert told.finding == finding
    assert words in told.sentence


@pytest.mark.parametrize(
    ("kind", "value", "field"),
    [("voltage", 1001, "value"), ("insulation", 2_000_000, "value"), ("torque", 5001, "value")],
)
def test_a_slip_of_the_finger_is_told_at_its_field(kind, value, field):
    between = {"voltage": "A-N", "insulation": "A-G", "torque": "Lug"}[kind]
    found = fault(
        kind=kind, value=value, between=between, system=System.SPLIT_240,
        test_v=500, temperature_c=None, marked_value=None,
    )  # fmt: skip
    assert found is not None
    assert found[0] == field
