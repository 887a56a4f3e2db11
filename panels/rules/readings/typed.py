"""What can be measured at a panel, and can a typed value be true?"""

from __future__ import annotations

from panels.rules.layout import System
from panels.rules.readings.kinds import Measured

# (least, most) that an instrument can show and a person could mean; outside is a slip of the
# finger. Common practice, no source.
VOLTS = (0.0, 1000.0)
MEGOHMS = (0.0, 1_000_000.0)
TEST_VOLTS = (50, 15_000)
CELSIUS = (-40.0, 80.0)
POUND_INCHES = (1.0, 5000.0)


def pairs(system: System) -> tuple[str, ...]:
    """What a voltage is measured between: A-N, B-N, A-B, ... and neutral to ground."""
    to_neutral = [f"{leg}-N" for leg in system.legs]
    return (*to_neutral, *between_legs(system), "N-G")


def between_legs(system: System) -> tuple[str, ...]:
    """The pairs of legs: A-B, and of three A-C and B-C."""
    legs = system.legs
    return tuple(f"{one}-{two}" for i, one in enumerate(legs) for two in legs[i + 1 :])


def conductors(system: System) -> tuple[str, ...]:
    """What insulation is measured between: each conductor to ground, then to each other."""
    to_ground = [f"{name}-G" for name in (*system.legs, "N")]
    return (*to_ground, *pairs(system)[:-1])


def fault(
    *,
    kind: str,
    value: float,
    between: str,
    system: System,
    test_v: int | None,
    temperature_c: float | None,
    marked_value: float | None,
) -> tuple[str, str] | None:
    """(field, sentence) of the first thing that cannot be so, or None."""
    checks = [("temperature_c", temperature_c, CELSIUS, "°C")]
    if kind == Measured.VOLTAGE:
        checks.append(("value", value, VOLTS, "V"))
        if between not in pairs(system):
            return "between", f"Choose what it was measured between: {', '.join(pairs(system))}."
    if kind == Measured.INSULATION:
        checks += [("value", value, MEGOHMS, "MΩ"), ("test_v", test_v, TEST_VOLTS, "V")]
        if test_v is None:
            return "test_v", "Give the test voltage; a resistance says little without it."
        if between not in conductors(system):
            told = ", ".join(conductors(system))
            return "between", f"Choose what it was measured between: {told}."
    if kind == Measured.TORQUE:
        checks.append(("value", value, POUND_INCHES, "lb-in"))
        checks.append(("marked_value", marked_value, POUND_INCHES, "lb-in"))
        if not between:
            return "between", "Say which terminal it was, e.g. main lug A."
    for field, number, (least, most), unit in checks:
        if number is not None and not least <= number <= most:
            return (
                field,
                f"{number:g} {unit} cannot be right; expected {least:g} to {most:g} {unit}.",
            )
    return None
