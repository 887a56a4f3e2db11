"""Do ampacity, voltage drop and fault current agree with a second working in plain floats?

Table 310.16, its corrections and Chapter 9, Table 9 (steel) as read in NFPA 70-2017, by hand.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from panels.editions import edition
from panels.rules.questions import answer
from panels.rules.working import Result

COPPER = {  # 60, 75 and 90 C; ohms in steel per 1000 ft: R, X
    "12": (20, 25, 30, 2.0, 0.068), "6": (55, 65, 75, 0.49, 0.064),
    "2": (95, 115, 130, 0.20, 0.057), "4/0": (195, 230, 260, 0.063, 0.051),
    "500": (320, 380, 430, 0.029, 0.048),
}  # fmt: skip
AMBIENT = {
    26: (1, 1, 1), 30: (1, 1, 1), 31: (0.91, 0.94, 0.96), 40: (0.82, 0.88, 0.91),
    41: (0.71, 0.82, 0.87), 45: (0.71, 0.82, 0.87), 50: (0.58, 0.75, 0.82),
}  # fmt: skip
TOGETHER = {
    1: 1,
    3: 1,
    4: 0.8,
    6: 0.8,
    7: 0.7,
    9: 0.7,
    10: 0.5,
    20: 0.5,
    21: 0.45,
    31: 0.4,
    41: 0.35,
}
COLUMNS = ("60 C", "75 C", "90 C")
SIZES, EDITIONS = st.sampled_from(list(COPPER)), st.sampled_from(["2017", "2020", "2023", "2026"])
tried = settings(max_examples=60, deadline=None)


def number(result: Result, key: str, unit: str) -> float:
    value: Any = result.value(key)
    return float(value.m_as(unit))


@tried
@given(
    size=SIZES, kind=st.integers(0, 2), end=st.integers(0, 1), by=EDITIONS,
    ambient=st.sampled_from(list(AMBIENT)), together=st.sampled_from(list(TOGETHER)),
)  # fmt: skip
def test_ampacity_agrees(
    size: str, kind: int, end: int, by: str, ambient: int, together: int
) -> None:
    assume(end <= kind)
    inputs = {"size": size, "metal": "copper", "insulation": COLUMNS[kind],
              "terminal": COLUMNS[end], "ambient": f"{ambient} C", "bundled": together}  # fmt: skip
    ours = number(answer("ampacity", inputs, edition(by)), "ampacity", "A")
    corrected = COPPER[size][kind] * AMBIENT[ambient][kind] * TOGETHER[together]
    assert ours == pytest.approx(min(corrected, COPPER[size][end]), abs=0.01)


@tried
@given(
    size=SIZES, feet=st.integers(5, 200), amperes=st.integers(1, 100),
    volts=st.sampled_from([208, 480]), phases=st.sampled_from([1, 3]),
    factor=st.sampled_from([1, 0.95, 0.8]),
)  # fmt: skip
def test_voltage_drop_agrees(
    size: str, feet: int, amperes: int, volts: int, phases: int, factor: float
) -> None:
    *_, ohms, reactance = COPPER[size]
    share = amperes * (2 if phases == 1 else math.sqrt(3)) * feet / 1000
    along = share * (ohms * factor + reactance * math.sqrt(1 - factor**2))
    across = share * (reactance * factor - ohms * math.sqrt(1 - factor**2))
    assume(along < volts / 3)
    inputs = {"size": size, "metal": "cu", "raceway": "steel", "length": f"{feet} ft",
              "current": f"{amperes} A", "volts": volts, "phases": phases,
              "power_factor": factor}  # fmt: skip
    result = answer("voltage_drop", inputs, edition("2020"))
    assert number(result, "drop_effective", "V") == pytest.approx(along, abs=0.01)
    exact = volts - (math.sqrt(volts**2 - across**2) - along)
    assert number(result, "drop", "V") == pytest.approx(exact, abs=0.02)


@tried
@given(
    size=SIZES, feet=st.integers(1, 150), kva=st.sampled_from([25, 75, 150]),
    percent=st.sampled_from([1.4, 2, 3]), ratio=st.sampled_from([1, 2, 4]),
)  # fmt: skip
def test_fault_current_agrees(size: str, feet: int, kva: int, percent: float, ratio: float) -> None:
    *_, ohms, reactance = COPPER[size]
    wire = complex(ohms, reactance) * feet / 1000
    for system, volts in (("1ph-240", 240), ("3ph-208", 208)):
        size_z = volts**2 / (kva * 1000) * percent / 100
        source = size_z * complex(1, ratio) / abs(complex(1, ratio))
        inputs = {
            "service": {
                "system": system,
                "transformer": {"rating": f"{kva} kVA", "percent_z": percent, "x_over_r": ratio},
                "conductor": {
                    "size": size, "metal": "cu", "raceway": "steel", "length": f"{feet} ft"
                },
            },
            "panels": [{"name": "Main", "rating": "200 A"}],
        }  # fmt: skip
        result = answer("fault", inputs, edition("2020"))
        expected = {"main_line_to_line": volts / abs(source + 2 * wire)}
        if system == "3ph-208":
            expected = {
                "main_three_phase": volts / math.sqrt(3) / abs(source + wire),
                "main_line_to_line": volts / 2 / abs(source + wire),
                "main_to_neutral": volts / math.sqrt(3) / abs(source + 2 * wire),
            }
        for key, amperes in expected.items():
            assert number(result, key, "A") == pytest.approx(amperes, abs=0.51), key
