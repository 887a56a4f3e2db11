"""Do amperes, volts and watts become volt-amperes through one door each?"""

from __future__ import annotations

import pint
import pytest

from contractor.units import Q
from panels.rules.errors import BadDescription
from panels.rules.quantities import apparent_power, from_watts


@pytest.mark.parametrize(
    ("amperes", "volts", "va"),
    # The nameplates of Annex D, Examples D1(b) and D2(b), D2(c).
    [
        (6, 230, 1380),
        (12, 115, 1380),
        (8, 115, 920),
        (10, 120, 1200),
        (7, 240, 1680),
        (24, 240, 5760),
    ],
)
def test_amperes_times_volts(amperes: float, volts: float, va: float) -> None:
    assert apparent_power(current=Q(amperes, "A"), volts=Q(volts, "V")) == Q(va, "VA")


def test_amperes_and_volts_cannot_be_swapped() -> None:
    with pytest.raises(pint.DimensionalityError):
        apparent_power(current=Q(230.0, "V"), volts=Q(6.0, "A"))


def test_watts_enter_with_a_power_factor() -> None:
    assert from_watts(real=Q(3.0, "kW"), power_factor=0.75) == Q(4000.0, "VA")
    assert from_watts(real=Q(1.0, "hp"), power_factor=1.0) == Q(746.0, "VA")
    for wrong in (0, -0.5, 1.01):
        with pytest.raises(BadDescription, match="power_factor"):
            from_watts(real=Q(3.0, "kW"), power_factor=wrong)
