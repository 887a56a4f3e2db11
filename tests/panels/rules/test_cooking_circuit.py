"""What does one cooking circuit carry (NFPA 70-2017, Table 220.55 note 4)? Values by hand."""

from __future__ import annotations

from typing import Any

import pytest

from contractor.errors import Refused
from tests.panels.rules.homes import amperes, home, va, worked


def cook(kind: str, kw: float, **more: Any) -> dict[str, Any]:
    return {"kind": kind, "nameplate": f"{kw} kW", **more}


@pytest.mark.parametrize(
    ("loads", "load", "rating"),
    [
        # One range by the table: 8 kW at 80 %; 12 kW 8 kW; 14 kW two steps of 5 % more.
        ([cook("range", 8)], 6400, 30),
        ([cook("range", 12)], 8000, 40),
        ([cook("range", 14)], 8800, 40),
        # One oven, one cooktop: the nameplate.
        ([cook("oven", 4.5)], 4500, 20),
        ([cook("cooktop", 7.2)], 7200, 30),
        # A cooktop and two ovens as one range of 15 kW: three steps.
        ([cook("cooktop", 6), cook("oven", 4.5, count=2)], 8000 * 1.15, 40),
        # 3.4 kW and 3.3 kW as one range of 6.7 kW: column B.
        ([cook("cooktop", 3.4), cook("oven", 3.3)], 6700 * 0.80, 25),
    ],
)
def test_the_circuit_of(loads: list[dict[str, Any]], load: float, rating: float) -> None:
    result = worked(home(*loads), "cooking_circuit")
    assert va(result, "cooking") == pytest.approx(load)
    assert amperes(result, "current") == pytest.approx(load / 240)
    assert amperes(result, "rating") == rating


def test_a_large_range_has_no_circuit_below_40_amperes() -> None:
    """8000 VA on 240 V are 33.3 A; 35 A would carry them."""
    result = worked(home(cook("range", 9)), "cooking_circuit")
    assert amperes(result, "rating") == 40
    assert "210.19(A)(3)" in result.line("rating").cite


@pytest.mark.parametrize(
    "loads",
    [
        [cook("range", 8, count=2)],
        [cook("range", 8), cook("oven", 4)],
        [cook("cooktop", 6), cook("oven", 4, count=3)],
        [cook("oven", 4, count=2)],
        [],
    ],
)
def test_any_other_company_on_one_circuit_is_refused(loads: list[dict[str, Any]]) -> None:
    with pytest.raises(Refused, match=r"Table 220\.55 note 4"):
        worked(home(*loads), "cooking_circuit")
