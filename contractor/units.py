"""Which units does the trade use, and which of them may never be mixed?

One registry for the whole project. It knows only the units an electrical contractor meets, so a
misspelt or foreign unit is refused. Apparent power (VA) is a dimension of its own: pint then
refuses to add a watt to a volt-ampere, or to read kW as kVA, without anyone having to remember it.
"""

from __future__ import annotations

from typing import Any, TypeAlias

import pint

DEFINITIONS = """
milli- = 1e-3 = m-
kilo- = 1e3 = k-
mega- = 1e6 = M-

meter = [length] = m
kilogram = [mass] = kg
second = [time] = s
ampere = [current] = A
kelvin = [temperature]; offset: 0 = K
degree_Celsius = kelvin; offset: 273.15 = °C = degC
degree_Fahrenheit = 5 / 9 * kelvin; offset: 233.15 + 200 / 9 = °F = degF

minute = 60 * second = min
hour = 60 * minute = h
inch = 0.0254 * meter = in
foot = 12 * inch = ft
circular_mil = 5.067075e-10 * meter ** 2 = cmil
kcmil = 1000 * circular_mil

newton = kilogram * meter / second ** 2 = N
pound_force = 4.4482216 * newton = lbf
joule = newton * meter = J
watt = joule / second = W
watt_hour = watt * hour = Wh
horsepower = 746 * watt = hp
volt = watt / ampere = V
ohm = volt / ampere = Ω

volt_ampere = [apparent_power] = VA
volt_ampere_reactive = [reactive_power] = var
"""


class _Quantity(pint.UnitRegistry.Quantity):  # type: ignore[type-arg]
    """A quantity that hands out its number as it is when asked for it in its own unit."""

    def m_as(self, units: Any) -> Any:
        own = isinstance(units, pint.Unit) and units._units == self._units
        return self.magnitude if own else super().m_as(units)


class _Registry(pint.UnitRegistry[Any]):
    """Pint's registry with that quantity: a calculation asks for numbers thousands of times."""

    Quantity: TypeAlias = _Quantity


ureg: pint.UnitRegistry[Any] = _Registry(None)
ureg.load_definitions(DEFINITIONS.splitlines())
ureg.formatter.default_format = "~P"
pint.set_application_registry(ureg)  # type: ignore[no-untyped-call]

Q = ureg.Quantity
Quantity: TypeAlias = "pint.Quantity[Any]"
