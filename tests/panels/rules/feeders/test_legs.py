"""Is the current on each leg that of the phasors, on every voltage system?"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panels.rules.feeders.legs import VOLTS, Carried, evenly, line_volts, neutral_volts
from panels.rules.layout import System

systems = pytest.mark.parametrize("system", list(System), ids=lambda system: system.value)
NOMINAL = {
    System.SPLIT_240: (240, 120), System.WYE_208_2LEG: (208, 120.1), System.WYE_208: (208, 120.1),
    System.DELTA_240: (240, 120), System.WYE_480: (480, 277.1),
}  # fmt: skip


def of(*loads: tuple[str, float]) -> Carried:
    carried = Carried()
    for legs, va in loads:
        carried.add(legs, va)
    return carried


@systems
def test_the_voltages_of_a_system_are_its_nominal_ones(system: System) -> None:
    assert (line_volts(system), neutral_volts(system)) == pytest.approx(NOMINAL[system], abs=0.05)
    legs = list(VOLTS[system].values())
    between = {abs(one - other) for one in legs for other in legs if one is not other}
    assert all(volts == pytest.approx(line_volts(system)) for volts in between)


def test_single_phase_loads_add_plainly() -> None:
    found = of(("A", 1200), ("B", 600), ("AB", 4800)).amperes(System.SPLIT_240)
    assert found == pytest.approx({"A": 30, "B": 25})


def test_a_load_between_two_legs_of_a_wye_is_not_halved() -> None:
    """Half of 2080 VA over 120 V would be 8.7 A; 10 A flow."""
    found = of(("AB", 2080)).amperes(System.WYE_208)
    assert found == pytest.approx({"A": 10, "B": 10, "C": 0}, abs=1e-9)


def test_two_loads_on_one_leg_of_a_wye_stand_sixty_degrees_apart() -> None:
    found = of(("AB", 2080), ("AC", 2080)).amperes(System.WYE_208)
    assert found == pytest.approx({"A": 10 * math.sqrt(3), "B": 10, "C": 10})


@systems
def test_a_load_of_all_legs_is_even(system: System) -> None:
    carried = of(("".join(system.legs), evenly(system, 40)))
    assert list(carried.amperes(system).values()) == pytest.approx([40] * len(system.legs))


@systems
@given(data=st.data())
def test_more_load_never_lowers_a_leg(system: System, data: st.DataObject) -> None:
    ways = ["A", "B", "AB", *(["C", "AC", "BC", "ABC"] if len(system.legs) == 3 else [])]
    listed = st.lists(st.tuples(st.sampled_from(ways), st.floats(0, 50_000)), max_size=8)
    loads, more = data.draw(listed), data.draw(listed)
    before, after = of(*loads).amperes(system), of(*loads, *more).amperes(system)
    assert all(after[leg] >= before[leg] - 1e-6 for leg in system.legs)


def test_continuous_load_counts_so_many_times_and_the_rest_once() -> None:
    carried = of(("A", 1200))
    carried.add("A", 2400, continuous=True)
    assert carried.amperes(System.SPLIT_240, continuous=1.25)["A"] == pytest.approx(35)
