"""Readings against every published value on file.

COMAR 20.50.07.02 [V], 83 Ill. Adm. Code 410.300 [V], ANSI C84.1 [M: from memory, unverified],
ANSI/NETA MTS-2019 Table 100.1 [V], ATS-2009 7.3.2 [V], IEC 60364-6 style of Bane NOR [V],
NFPA 70-2017 110.14(D) [V17]. What can be typed: common practice, no source.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panels.rules.layout import System
from panels.rules.readings import (
    COMAR,
    NETA,
    Finding,
    Measured,
    Reading,
    conductors,
    fault,
    judge,
    judgements,
    pairs,
    unbalance,
)
from panels.rules.readings import insulation as megohms
from panels.rules.readings.voltage import by_ranges

WITHIN, OUTSIDE, UNJUDGED = Finding.WITHIN, Finding.OUTSIDE, Finding.UNJUDGED


def volts(value, between="A-N", system=System.SPLIT_240):
    return Reading(kind=Measured.VOLTAGE, value=value, between=between, system=system)


def insulation(value, test_v, **said):
    return Reading(kind=Measured.INSULATION, value=value, between="A-G", test_v=test_v, **said)


def torque(value, marked, tool="Wrench 2"):
    return Reading(
        kind=Measured.TORQUE, value=value, between="Lug", marked_value=marked, instrument=tool
    )


def by(reading, criterion):
    return next(one for one in judgements(reading) if one.criterion == criterion)


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
def test_the_regulation_of_maryland_comes_first(system, between, least, most):
    def found(value):
        told = judge(volts(value, between, system))
        assert (told.source, told.criterion, told.confirm) == (COMAR, "comar", "")
        return told.finding

    assert found(least) == found(most) == WITHIN
    assert found(least - 0.1) == found(most + 0.1) == OUTSIDE


@pytest.mark.parametrize(
    ("criterion", "nominal", "least", "most", "is_read"),
    [
        ("comar", "240 3-wire", 216, 252, True),
        ("illinois", "120", 113, 127, True),
        ("ansi_a_service", "120", 114, 126, False),
        ("ansi_b_service", "120", 110, 127, False),
        ("ansi_a_use", "120", 108, 126, False),
        ("ansi_b_use", "120", 104, 127, False),
        ("ansi_a_service", "240", 228, 252, False),
        ("ansi_b_service", "240", 220, 254, False),
        ("ansi_a_use", "240", 216, 252, False),
        ("ansi_b_use", "240", 208, 254, False),
        ("ansi_a_service", "208", 197, 218, False),
        ("ansi_b_service", "208", 191, 220, False),
        ("ansi_a_service", "480", 456, 504, False),
        ("ansi_b_service", "480", 440, 508, False),
    ],
)
def test_other_ranges_stand_beside_it(criterion, nominal, least, most, is_read):
    def found(value):
        told = next(one for one in by_ranges(value, nominal) if one.criterion == criterion)
        assert ("from memory" in told.confirm) is not is_read
        return told.finding

    assert found(least) == found(most) == WITHIN
    assert found(least - 0.1) == found(most + 0.1) == OUTSIDE


def test_a_high_leg_has_only_what_is_known_from_memory():
    assert {one.criterion[:4] for one in judgements(volts(240, "A-B", System.DELTA_240))} == {
        "ansi"
    }


@pytest.mark.parametrize(
    ("system", "between"), [(System.DELTA_240, "B-N"), (System.SPLIT_240, "N-G")]
)
def test_what_no_publication_covers_is_not_judged(system, between):
    told = judge(volts(120, between, system))
    assert (told.finding, told.source) == (UNJUDGED, "")


@pytest.mark.parametrize(
    ("rated", "test_v", "least"),
    [
        (250, 500, 25), (600, 1000, 100), (1000, 1000, 100), (2500, 1000, 500),
        (5000, 2500, 1500), (8000, 2500, 2500), (15000, 2500, 5000), (25000, 5000, 10000),
        (34000, 5000, 100000), (46000, 5000, 100000),
    ],
)  # fmt: skip
def test_insulation_resistance_by_rated_voltage(rated, test_v, least):
    def found(value, at=test_v):
        told = by(insulation(value, at, rated_v=rated), "neta")
        assert told.source == NETA
        return told.finding

    assert found(least) == WITHIN
    assert found(least * 0.999) == OUTSIDE
    assert found(least, 123) == UNJUDGED


def test_between_two_rows_of_the_table_nothing_is_read():
    assert by(insulation(1e5, 5000, rated_v=30000), "neta").finding == UNJUDGED


@pytest.mark.parametrize(("test_v", "least"), [(250, 0.5), (500, 1.0), (1000, 1.0)])
def test_the_installation_standard_goes_by_the_test_voltage(test_v, least):
    assert by(insulation(least, test_v), "installation").finding == WITHIN
    assert by(insulation(least - 0.01, test_v), "installation").finding == OUTSIDE


@pytest.mark.parametrize(("rated", "right", "wrong"), [(300, 500, 1000), (600, 1000, 500)])
def test_a_cable_is_tested_at_its_own_voltage(rated, right, wrong):
    assert by(insulation(500, right, rated_v=rated), "cable").finding == WITHIN
    assert by(insulation(500, wrong, rated_v=rated), "cable").finding == OUTSIDE


def test_without_a_temperature_the_reading_is_judged_as_it_is():
    told = judge(insulation(30, 500))
    assert (told.finding, told.confirm) == (WITHIN, "")
    assert "not corrected for temperature" in told.sentence


@pytest.mark.parametrize(("celsius", "at_20"), [(20, 30), (30, 60), (10, 15), (40, 120), (5, 10.6)])
def test_resistance_halves_for_each_ten_degrees_by_rule_of_thumb(celsius, at_20):
    assert megohms.at_reference(30, celsius) == pytest.approx(at_20, abs=0.01)


def test_a_corrected_verdict_shows_both_and_asks_to_confirm():
    told = judge(insulation(30, 500, temperature_c=5))
    assert told.finding == OUTSIDE
    assert "30 MΩ at 5 °C is about 10.6 MΩ" in told.sentence
    assert "other way round" in told.sentence
    assert "from memory" in told.confirm
    assert "other way round" not in judge(insulation(300, 500, temperature_c=5)).sentence


@given(st.floats(0.001, 1e6), st.floats(-40, 79), st.floats(0.1, 1))
def test_warmer_at_the_same_reading_never_judges_worse(value, celsius, more):
    assert megohms.at_reference(value, celsius + more) > megohms.at_reference(value, celsius)


@pytest.mark.parametrize(
    ("value", "marked", "finding", "words"),
    [
        (250, 250, WITHIN, "As marked"),
        (275, 250, OUTSIDE, "10% over"),
        (200, 250, OUTSIDE, "20% under"),
        (250, None, UNJUDGED, "marked on the equipment"),
    ],
)
def test_torque_is_compared_with_the_marked_value_and_no_tolerance(value, marked, finding, words):
    told = judge(torque(value, marked))
    assert told.finding == finding
    assert words in told.sentence
    assert "calibrated tool" not in told.sentence
    assert "calibrated tool" in judge(torque(value, marked, tool=" ")).sentence


def test_unbalance_is_the_largest_deviation_from_the_mean():
    """460, 467 and 450 V: mean 459, deviation 9, 1.96 % [C]; the 3 % limit [M]."""
    told = unbalance([460, 467, 450])
    assert told is not None
    assert (told.mean, told.deviation) == (459, 9)
    assert told.percent == pytest.approx(1.9608, abs=1e-4)
    assert told.judgement.finding == WITHIN
    worse = unbalance([480, 480, 450])
    assert worse is not None
    assert worse.judgement.finding == OUTSIDE
    assert unbalance([0, 0, 0]) is None


@given(st.lists(st.floats(1, 1000), min_size=3, max_size=3), st.floats(0.1, 3))
def test_unbalance_knows_neither_order_nor_scale(volts_, scale):
    told, turned = unbalance(volts_), unbalance([one * scale for one in volts_[::-1]])
    assert told is not None
    assert turned is not None
    assert told.percent == pytest.approx(turned.percent, abs=1e-6)


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
