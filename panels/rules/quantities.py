"""How does a number get its unit, and how is it read back to people?"""

from __future__ import annotations

import math
import re
from functools import cache
from typing import TypeAlias

from pint import Unit

from contractor.units import Q, Quantity, ureg
from panels.rules.errors import BadDescription
from panels.rules.spellings import UNITS

Value: TypeAlias = "Quantity | int | float | str"  # words: a conductor size, a verdict

VA, AMPERE, VOLT, SQUARE_FOOT = ureg.VA, ureg.A, ureg.V, ureg.ft**2
WATT, HORSEPOWER = ureg.W, ureg.hp

SPELLINGS = {
    "va": "VA", "kva": "kVA", "w": "W", "kw": "kW", "hp": "hp", "a": "A", "amp": "A",
    "amps": "A", "v": "V", "kv": "kV", "ft2": "ft**2", "ft^2": "ft**2", "ft²": "ft**2",
    "sq ft": "ft**2", "sqft": "ft**2", "m2": "m**2", "m^2": "m**2", "m²": "m**2",
    "ft": "ft", "m": "m", "kwh": "kWh", "wh": "Wh", "h": "h", "min": "min", "s": "s", "ka": "kA",
    "va/ft2": "VA/ft**2", "va/ft²": "VA/ft**2",
    "w/ft2": "W/ft**2", "va/m2": "VA/m**2", "va/m²": "VA/m**2", "ohm": "ohm", "ω": "ohm",
    "megohm": "Mohm", "megohms": "Mohm", "lb-in": "lbf*in", "lb-ft": "lbf*ft",
    "in": "in", "kcmil": "kcmil", "ohm/kft": "ohm/kft", "ω/kft": "ohm/kft",
    "c": "degC", "°c": "degC", "f": "degF", "°f": "degF",
}  # fmt: skip
LONGEST = 40
FRACTION = re.compile(r"\s*(?:(\d+)[ -])?([1-9])/([2-9]|16|32) ?([A-Za-z]+)\s*")  # 1 1/2 hp
TEXT = re.compile(
    r"\s*([-−]?[0-9][0-9,]*\.?[0-9]*|\.[0-9]+)\s*([A-Za-zΩω°][A-Za-zΩω0-9 ./^²-]*?)\s*"
)


@cache
def _unit(name: str) -> Unit:
    """The unit of that name: names are spelt out thousands of times, and read once."""
    return ureg.Unit(name)


def va(number: float) -> Quantity:
    """Volt-amperes to a millionth, so that 55 % of 13,100 is 7,205 and not a hair more."""
    return Q(round(float(number), 6), VA)


def read_quantity(given: object, *, field: str, unit: str, example: str) -> Quantity:
    """A quantity in `unit` from ``"12 kVA"`` or ``{"value": 12, "unit": "kVA"}``.

    A bare number, an unknown unit and a unit of another kind (feet for an area, kW for kVA)
    are refused with `BadDescription`; a unit of the same kind is converted.
    """
    quantity = read_quantity_any(given, field=field, example=example)
    if not quantity.is_compatible_with(_unit(unit)):
        kind = KINDS.get(unit, f"in {unit}")
        raise BadDescription(field, f'{show(quantity)} is not {kind}. Write e.g. "{example}".')
    return quantity.to(_unit(unit))


def read_quantity_any(given: object, *, field: str, example: str, signed: bool = False) -> Quantity:
    """A quantity in whatever known unit it was given in; below zero only if `signed`."""
    if isinstance(given, ureg.Quantity):
        return given
    number, spelling = _split(given, field=field, example=example)
    if not math.isfinite(number):
        raise BadDescription(field, f'{number:g} is not a number. Write e.g. "{example}".')
    if number < 0 and not signed:
        raise BadDescription(field, f'{number:g} {spelling} is below zero. Write e.g. "{example}".')
    plain = " ".join(spelling.lower().replace(".", " ").split())
    known = SPELLINGS.get(UNITS.get(plain, plain))
    if known is None:
        raise BadDescription(field, f'the unit "{spelling}" is not known. Write e.g. "{example}".')
    return Q(number, _unit(known))


def _split(given: object, *, field: str, example: str) -> tuple[float, str]:
    """The number and the spelling of the unit, from text or from a table of the two."""
    number, spelling = given, ""
    if isinstance(given, dict) and set(given) == {"value", "unit"}:
        number, spelling = given["value"], str(given["unit"])
    elif isinstance(given, str) and len(given) <= LONGEST and (match := TEXT.fullmatch(given)):
        number, spelling = float(match[1].replace(",", "").replace("−", "-")), match[2]
    elif isinstance(given, str) and len(given) <= LONGEST and (parts := FRACTION.fullmatch(given)):
        number = int(parts[1] or 0) + int(parts[2]) / int(parts[3])
        spelling = parts[4]
    if not spelling or isinstance(number, bool) or not isinstance(number, int | float):
        told = given if len(repr(given)) <= LONGEST else f"{type(given).__name__} given; it"
        raise BadDescription(field, f'{told!r} needs a number and its unit, e.g. "{example}".')
    try:
        return float(number), spelling
    except OverflowError:
        raise BadDescription(field, "the number is too large.") from None


KINDS = {
    "VA": "an apparent power (VA)",
    "W": "a real power (W)",
    "A": "a current (A)",
    "V": "a voltage (V)",
    "ft**2": "an area (ft² or m²)",
    "ft": "a length (ft or m)",
    "degC": "a temperature (C or F)",
    "ohm/kft": "a resistance per length (ohm/kft)",
    "VA/ft**2": "a load per area (VA/ft²)",
}


def apparent_power(*, current: Quantity, volts: Quantity, phases: int = 1) -> Quantity:
    """Amperes times volts in VA, times the root of three on three phases (220.5(A): nominal volts).

    `volts` are between two legs for three phases.
    """
    return va(current.m_as(AMPERE) * volts.m_as(VOLT) * (math.sqrt(3) if phases == 3 else 1.0))


def from_watts(*, real: Quantity, power_factor: float) -> Quantity:
    """The VA of a real power: the one door by which watts enter a load calculation."""
    if not 0 < power_factor <= 1:
        raise BadDescription("power_factor", f"{power_factor:g} must be above 0 and at most 1.")
    return va(real.m_as(WATT) / power_factor)


def show(value: Value) -> str:
    """The value for people: thousands apart, two decimals at most, the unit after it."""
    if isinstance(value, str):
        return value
    if isinstance(value, int | float):
        return _number(value)
    symbol, decimals = _printed(value.units)
    return f"{_number(value.magnitude, decimals)} {symbol}"


@cache
def code(units: Unit) -> str:
    """The unit as it is stored and read again."""
    return f"{units:~C}"


@cache
def _printed(units: Unit) -> tuple[str, int]:
    """The unit as people read it, and how many decimals its numbers take."""
    small = units.is_compatible_with("ohm") or units.is_compatible_with("ohm/ft")
    return f"{units:~P}", 1 if units == AMPERE else 4 if small else 2


def percent(factor: float) -> str:
    return f"{_number(factor * 100)} %"


def _number(number: float, decimals: int = 2) -> str:
    text = f"{number:,.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
