"""Sources on a busbar. Check values of the 120 % rule: computed from NFPA 70-2017,
705.12(B)(2)(3)(b) [V17], as listed in the project's check values, section 5 [C]."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panels.editions import edition
from panels.rules.check.connected import bus_of
from panels.rules.check.outcome import Outcome
from tests.panels.rules.check.records import breaker, first, house, inverter, plate

FULL = breaker(rating_a=6000, kind="spare")  # so that the sum of breakers never helps
AT_THE_END = {"position": "opposite", "labelled": True}


def on(bus: int, main: int, amps: float, **said):
    panel = plate(bus_a=bus, rating_a=bus, main_a=main)
    return house(FULL, panel=panel, sources=(inverter(amps, **(AT_THE_END | said)),))


# [C] 200 A bus, 200 A main: 40 A left, inverter 32 A (7.68 kW); 125/100: 50 A left, 40 A;
# 200/175: 65 A left, 52 A; 225/200: 70 A left, 56 A.
@pytest.mark.parametrize(
    ("bus", "main", "inverter_a"), [(200, 200, 32), (125, 100, 40), (200, 175, 52), (225, 200, 56)]
)
def test_the_120_percent_rule_leaves_what_the_check_values_say(bus, main, inverter_a):
    record = on(bus, main, inverter_a)
    assert bus_of(record, edition("2017")).left_for_inverters == pytest.approx(inverter_a)
    assert first("pv2", record).outcome is Outcome.PASS
    assert first("pv2", on(bus, main, inverter_a + 0.01)).outcome is Outcome.FAIL


def test_32_amperes_at_240_volts_are_7_68_kilowatts():
    left = bus_of(on(200, 200, 32), edition("2017")).left_for_inverters
    assert left * 240 / 1000 == pytest.approx(7.68)


def test_the_current_of_the_inverter_counts_and_not_its_breaker():
    """1.25 × 32 A asks for a 40 A breaker; a 60 A breaker on the same inverter changes nothing."""
    for size in (40, 60):
        assert first("pv2", on(200, 200, 32, breaker_a=size)).outcome is Outcome.PASS


def test_several_inverters_count_together():
    both = house(FULL, sources=tuple(inverter(16.1, id=name, **AT_THE_END) for name in "ab"))
    assert first("pv2", both).outcome is Outcome.FAIL


def test_the_120_percent_rule_wants_the_opposite_end_and_the_label():
    assert first("pv2", on(200, 200, 32, position="anywhere")).outcome is Outcome.FAIL
    assert first("pv2", on(200, 200, 32, labelled=False)).outcome is Outcome.FAIL
    assert first("pv2", on(200, 200, 32, labelled=None)).missing == (
        "whether its label is on the panel",
    )


def test_one_way_that_holds_is_enough_and_the_others_say_so():
    held = on(200, 150, 40)
    assert first("pv1", held).outcome is Outcome.PASS
    other = first("pv3", held)
    assert other.outcome is Outcome.NOT_APPLICABLE
    assert "allowed by PV1" in other.sentence


def test_while_one_way_is_open_nothing_fails():
    unplaced = on(200, 200, 32, position="")
    found = {key: first(key, unplaced).outcome for key in ("pv1", "pv2", "pv3", "pv4")}
    assert Outcome.FAIL not in found.values()
    assert found["pv2"] is found["pv4"] is Outcome.CANNOT_TELL


def test_when_no_way_can_hold_all_fail():
    found = {first(key, on(200, 200, 33)).outcome for key in ("pv1", "pv2", "pv3", "pv4")}
    assert found == {Outcome.FAIL}


def test_the_sum_of_breakers_counts_all_but_the_main():
    """705.12(B)(2)(3)(c) [V17]: loads and sources together."""
    some = [breaker(str(n), rating_a=40) for n in range(1, 6)]
    source = (inverter(60.0, labelled=True, position="anywhere"),)
    assert first("pv3", house(*some, sources=source)).outcome is Outcome.PASS
    one_more = house(*some, breaker("6", rating_a=15), sources=source)
    assert first("pv3", one_more).outcome is Outcome.FAIL


@given(
    bus=st.integers(60, 400), main=st.integers(60, 400), amps=st.floats(1, 300),
    less=st.floats(0.01, 1),
)  # fmt: skip
def test_a_smaller_inverter_never_fails_where_a_larger_one_passes(bus, main, amps, less):
    for key in ("pv1", "pv2", "pv4"):
        place = {"pv4": "centre"}.get(key, "opposite")
        if first(key, on(bus, main, amps, position=place)).outcome is Outcome.PASS:
            smaller = first(key, on(bus, main, amps * less, position=place))
            assert smaller.outcome is not Outcome.FAIL
