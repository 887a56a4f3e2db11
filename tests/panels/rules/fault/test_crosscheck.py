"""Do a second derivation and two network programs find the same fault currents, within 0.5 %?"""

from __future__ import annotations

import pytest

from tests.crosscheck import by_nodes, by_ours
from tests.crosscheck.by_ours import Currents
from tests.crosscheck.cases import CASES, Case, published

WITHIN = 0.005
cases = pytest.mark.parametrize("case", CASES, ids=lambda case: case.title)


def differing(ours: Currents, theirs: Currents) -> dict[object, tuple[float, float]]:
    """The currents that stand further apart; every one of theirs has to be among ours."""
    return {
        key: (ours[key], amperes)
        for key, amperes in theirs.items()
        if amperes != pytest.approx(ours[key], rel=WITHIN)
    }


@cases
def test_a_nodal_matrix_of_every_wire_finds_the_same(case: Case) -> None:
    theirs = by_nodes.currents(case)
    assert theirs.keys() == by_ours.currents(case).keys()
    assert differing(by_ours.currents(case), theirs) == {}


@cases
def test_opendss_finds_the_same(case: Case) -> None:
    pytest.importorskip("opendssdirect", reason="OpenDSSDirect.py is of the crosscheck group")
    from tests.crosscheck import by_opendss

    theirs = by_opendss.currents(case)
    assert theirs.keys() == by_ours.currents(case).keys()
    assert differing(by_ours.currents(case), theirs) == {}


@cases
def test_pandapower_finds_the_same_on_three_phases(case: Case) -> None:
    pytest.importorskip("pandapower", reason="pandapower is of the crosscheck group")
    from tests.crosscheck import by_pandapower

    theirs = by_pandapower.currents(case)
    single = case.plain["service"]["system"].startswith("1ph")
    assert bool(theirs) is not single
    assert differing(by_ours.currents(case), theirs) == {}


@pytest.mark.parametrize(
    ("x_over_r", "place", "amperes"),
    [
        (3, "service", 46_256), (3, "MDP", 38_175), (3, "L1", 18_356),
        (99_999, "service", 46_261), (99_999, "MDP", 38_869), (99_999, "L1", 19_963),
    ],
)  # fmt: skip
def test_the_figures_once_printed_by_opendss_still_stand(
    x_over_r: float, place: str, amperes: float
) -> None:
    """Run with OpenDSSDirect.py 0.9.4 on the published geometry before this was written."""
    ours = by_ours.currents(published(x_over_r))
    assert ours[place, "3ph"] == pytest.approx(amperes, rel=0.0005)


def test_a_current_that_is_off_by_a_percent_is_seen() -> None:
    ours = by_ours.currents(CASES[0])
    off = {key: amperes * 1.01 for key, amperes in ours.items()}
    assert differing(ours, off).keys() == ours.keys()
