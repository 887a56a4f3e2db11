"""Can a watt be taken for a volt-ampere, or a foot for a meter?"""

from __future__ import annotations

import pint
import pytest

from contractor.units import Q, ureg


@pytest.mark.parametrize("wrong", ["kW", "W", "hp", "kvar", "kWh", "A", "V", "ft"])
def test_nothing_but_apparent_power_is_read_as_volt_amperes(wrong: str) -> None:
    with pytest.raises(pint.DimensionalityError):
        Q(1.0, wrong).to("VA")
    with pytest.raises(pint.DimensionalityError):
        Q(1.0, "VA") + Q(1.0, wrong)


def test_amperes_times_volts_are_watts_until_someone_says_volt_amperes() -> None:
    assert (Q(6.0, "A") * Q(230.0, "V")).to("W") == Q(1380.0, "W")
    with pytest.raises(pint.DimensionalityError):
        (Q(6.0, "A") * Q(230.0, "V")).to("VA")


def test_units_of_one_kind_are_converted() -> None:
    assert Q(18.6, "kVA").to("VA").magnitude == pytest.approx(18_600)
    assert Q(100.0, "m**2").to("ft**2").magnitude == pytest.approx(1076.39, abs=0.01)
    assert Q(1.0, "kWh").to("J").magnitude == pytest.approx(3.6e6)
    assert Q(32.0, "degF").to("degC").magnitude == pytest.approx(0)
    assert Q(250.0, "kcmil").to("cmil").magnitude == pytest.approx(250_000)
    assert Q(10.0, "lbf*ft").to("N*m").magnitude == pytest.approx(13.558, abs=0.001)


def test_a_length_is_no_area() -> None:
    with pytest.raises(pint.DimensionalityError):
        Q(1500.0, "ft").to("ft**2")


def test_a_unit_the_trade_does_not_use_is_not_known() -> None:
    with pytest.raises(pint.UndefinedUnitError):
        ureg.Quantity(1.0, "furlong")


def test_the_registry_is_the_one_of_the_whole_program() -> None:
    assert pint.get_application_registry().get() is ureg


@pytest.mark.parametrize("wrong", [ureg.kW, ureg.W, ureg.A, ureg.ft, "kW", "A"])
def test_a_number_is_never_handed_out_in_a_unit_of_another_kind(wrong: object) -> None:
    with pytest.raises(pint.DimensionalityError):
        Q(1.0, ureg.VA).m_as(wrong)


def test_a_number_is_handed_out_in_the_unit_asked_for() -> None:
    assert Q(18.6, ureg.kVA).m_as(ureg.VA) == pytest.approx(18_600)
    assert Q(18.6, ureg.kVA).m_as(ureg.kVA) == 18.6
    assert Q(18.6, "kVA").m_as("VA") == pytest.approx(18_600)
