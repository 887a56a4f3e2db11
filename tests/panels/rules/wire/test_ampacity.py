"""Does a conductor carry what the rules leave it, and is its device judged by them?

Numbers of NFPA 70-2017: Table 310.15(B)(16), 110.14(C), 240.4(B) (from memory), 240.4(D).
"""

from __future__ import annotations

from typing import Any

import pytest

from panels.rules.errors import BadDescription, NotCovered
from tests.panels.rules.wire.asked import ask, number


def ampacity(**plain: Any) -> float:
    return number(ask("ampacity", **plain), "ampacity")


@pytest.mark.parametrize(
    ("plain", "amperes"),
    [
        ({"size": "12"}, 20),  # 60 °C terminals by size
        ({"size": "1"}, 110),
        ({"size": "1/0"}, 150),  # 75 °C above 1 AWG
        ({"size": "3", "device": "100 A"}, 85),
        ({"size": "3", "device": "110 A"}, 100),
        ({"size": "1/0", "device": "90 A"}, 125),
        ({"size": "3", "terminal": "75 C"}, 100),
        ({"size": "3", "terminal": 75, "insulation": 60}, 85),
        ({"size": "4/0", "insulation": "90 C", "terminal": "75 C", "bundled": 6}, 208),
        ({"size": "4/0", "insulation": "90 C", "terminal": "75 C", "bundled": 3}, 230),
        ({"size": "4/0", "insulation": "90 C", "terminal": "75 C", "ambient": "104 F"}, 230),
        ({"size": "8", "insulation": 90, "terminal": 75, "ambient": "45 C"}, 55 * 0.87),
        ({"size": "1/0", "sets": 2}, 300),
    ],
)
def test_the_ampacity_is_that_of_table_surroundings_and_terminals(
    plain: dict[str, Any], amperes: float
) -> None:
    assert ampacity(metal="cu", **plain) == pytest.approx(amperes)


def test_a_short_raceway_costs_nothing() -> None:
    long: dict[str, Any] = {
        "size": "4/0",
        "metal": "cu",
        "insulation": 90,
        "terminal": 75,
        "bundled": 9,
    }
    assert ampacity(**long) == pytest.approx(182)
    assert ampacity(**long, raceway_length="24 in") == 230
    assert ampacity(**long, raceway_length="0.6096 m") == 230
    assert ampacity(**long, raceway_length="25 in") == pytest.approx(182)


@pytest.mark.parametrize(
    ("plain", "amperes"),
    [
        ({"size": "14"}, 15),
        ({"size": "12", "terminal": 75}, 20),
        ({"size": "10", "terminal": 75}, 30),
        ({"size": "12", "metal": "al"}, 15),
        ({"size": "10", "metal": "al", "terminal": 75}, 25),
        ({"size": "6"}, 60),  # 55 A, next standard
        ({"size": "6", "receptacles": True}, 50),
        ({"size": "8"}, 40),
        ({"size": "600", "sets": 2}, 800),  # 840 A: not above 800 A
        ({"size": "500", "sets": 2}, 800),  # 760 A
        ({"size": "350", "sets": 3}, 800),  # 930 A
        ({"size": "400", "sets": 3}, 1000),  # 1005 A
    ],
)
def test_the_largest_device(plain: dict[str, Any], amperes: float) -> None:
    result = ask("ampacity", **{"metal": "cu", **plain})
    assert number(result, "largest_device") == amperes


def test_a_load_is_judged_before_and_after_correction() -> None:
    """Continuous load counts 125 % against the terminals, 100 % against the corrected ampacity."""
    plain: dict[str, Any] = {
        "size": "3",
        "metal": "cu",
        "terminal": 75,
        "insulation": 90,
        "device": "100 A",
    }
    assert ask("ampacity", continuous="80 A", **plain).value("verdict") == "passes"
    more = ask("ampacity", continuous="81 A", **plain)
    assert (more.value("load_before"), more.value("load_after")) == ("fails", "passes")
    assert more.value("verdict") == "fails"
    hot = ask("ampacity", continuous="80 A", ambient="50 C", bundled=5, **plain)
    assert (hot.value("load_before"), hot.value("load_after")) == ("passes", "fails")
    assert hot.value("device_check") == "fails"


def test_nothing_is_judged_that_is_not_stated() -> None:
    result = ask("ampacity", size="12", metal="cu")
    assert "verdict" not in {line.key for line in result.lines}


def test_a_breaker_too_large_for_the_wire_fails_and_names_the_section() -> None:
    line = ask("ampacity", size="12", metal="cu", device="30 A").line("device_check")
    assert (line.value, line.cite) == ("fails", "240.4(D)")
    assert "20 A" in line.how
    assert "240.4(G)" in line.note


def test_the_ground_is_judged_by_its_table() -> None:
    circuit = {"size": "8", "metal": "cu", "device": "40 A"}
    assert ask("ampacity", ground="10", **circuit).value("ground_check") == "passes"
    small = ask("ampacity", ground="12", **circuit)
    assert small.value("ground_check") == "fails"
    assert small.value("verdict") == "fails"
    aluminum = ask("ampacity", ground="10", ground_metal="al", **circuit)
    assert aluminum.value("ground_check") == "fails"


def test_what_was_never_read_says_so() -> None:
    line = ask("ampacity", size="6", metal="cu").line("largest_device")
    assert line.confirm == "240.4(B): from memory; confirm against the printed code."
    hot = ask("ampacity", by="2023", size="6", metal="cu").line("ambient_factor")
    assert "from memory" in hot.confirm


def test_small_conductors_are_not_paralleled() -> None:
    with pytest.raises(NotCovered, match=r"1 AWG may not be run in parallel.*310.10\(H\)"):
        ampacity(size="1", metal="cu", sets=2)


@pytest.mark.parametrize(
    ("plain", "says"),
    [
        ({"size": "13"}, "size: '13' is not a conductor size"),
        ({"metal": ""}, "metal: is missing"),
        ({"metal": "tin"}, "metal: 'tin' is not a metal"),
        ({"insulation": "80 C"}, "insulation: '80 C' is not a column"),
        ({"terminal": 90}, "terminal: 90 is not a column"),
        ({"ambient": 30}, "ambient: 30 needs a number and its unit"),
        ({"ambient": "30 A"}, "ambient: 30 A is not a temperature"),
        ({"bundled": 0}, "bundled: 0 must be a whole number from 1"),
        ({"sets": 1.5}, "sets: 1.5 must be a whole number"),
        ({"device": "0 A"}, "device: must be above zero"),
        ({"device": "20 kW"}, "device: 20 kW is not a current"),
        ({"continuous": "16 ft"}, "continuous: 16 ft is not a current"),
        ({"raceway_length": "2 A"}, "raceway_length: 2 A is not"),
        ({"wire": "12"}, "wire: is not a field here"),
    ],
)
def test_a_mistake_names_its_field(plain: dict[str, Any], says: str) -> None:
    with pytest.raises(BadDescription) as fault:
        ask("ampacity", **{"size": "12", "metal": "cu", **plain})
    assert says in fault.value.sentence
