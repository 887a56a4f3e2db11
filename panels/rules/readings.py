"""What can be measured at a panel, can it be true, and what do published values say of it?

Judged lightly: one published service-voltage regulation and one table of suggested insulation
resistance. Nothing is judged that these do not cover; the reader is told so.
"""

from __future__ import annotations

import enum
from dataclasses import dataclass

from panels.rules.layout import System

COMAR = "COMAR 20.50.07.02, service voltage limits (Maryland)"
NETA = "ANSI/NETA MTS-2019, Table 100.1, suggested values at 20 °C"
MARKED = "NFPA 70-2017, 110.14(D): the value marked on the equipment"

# (least, most) that an instrument can show and a person could mean; outside is a slip of the
# finger. Common practice, no source.
VOLTS = (0.0, 1000.0)
MEGOHMS = (0.0, 1_000_000.0)
TEST_VOLTS = (50, 15_000)
CELSIUS = (-40.0, 80.0)
POUND_INCHES = (1.0, 5000.0)


class Measured(enum.StrEnum):
    VOLTAGE = "voltage"
    INSULATION = "insulation"
    TORQUE = "torque"


class Finding(enum.StrEnum):
    """How a reading stands against the published value."""

    WITHIN = "within"
    OUTSIDE = "outside"
    UNJUDGED = "unjudged"

    @property
    def label(self) -> str:
        return {"within": "within", "outside": "outside", "unjudged": "not judged"}[self.value]


@dataclass(frozen=True, kw_only=True)
class Judgement:
    """The finding, why in one sentence, and by which publication (empty: none covers it)."""

    finding: Finding
    sentence: str
    source: str = ""


# Volts (least, most) by system: between legs, and leg to neutral. [V] COMAR 20.50.07.02.
SERVICE_LIMITS: dict[System, dict[str, tuple[float, float]]] = {
    System.SPLIT_240: {"legs": (228.0, 252.0), "neutral": (114.0, 126.0)},
    System.WYE_208_2LEG: {"legs": (197.0, 219.0), "neutral": (114.0, 126.0)},
    System.WYE_208: {"legs": (197.0, 219.0), "neutral": (114.0, 126.0)},
    System.WYE_480: {"legs": (432.0, 504.0), "neutral": (249.0, 291.0)},
}

# Rated volts of the equipment: (test V DC, least MΩ). [V] NETA MTS-2019 Table 100.1.
INSULATION = {250: (500, 25.0), 600: (1000, 100.0)}
RATED_VOLTS = {
    System.SPLIT_240: 250,
    System.WYE_208_2LEG: 250,
    System.WYE_208: 250,
    System.DELTA_240: 250,
    System.WYE_480: 600,
}


def pairs(system: System) -> tuple[str, ...]:
    """What a voltage is measured between: A-N, B-N, A-B, ... and neutral to ground."""
    legs = system.legs
    to_neutral = [f"{leg}-N" for leg in legs]
    between = [f"{one}-{two}" for i, one in enumerate(legs) for two in legs[i + 1 :]]
    return (*to_neutral, *between, "N-G")


def conductors(system: System) -> tuple[str, ...]:
    """What insulation is measured between: each conductor to ground, then to each other."""
    legs = system.legs
    to_ground = [f"{name}-G" for name in (*legs, "N")]
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


def judge(
    *,
    kind: str,
    value: float,
    between: str,
    system: System,
    test_v: int | None = None,
    temperature_c: float | None = None,
    marked_value: float | None = None,
) -> Judgement:
    """How the reading stands against the published value, where there is one."""
    if kind == Measured.VOLTAGE:
        return _voltage(value, between=between, system=system)
    if kind == Measured.INSULATION:
        return _insulation(value, system=system, test_v=test_v, temperature_c=temperature_c)
    return _torque(value, marked_value=marked_value)


def _voltage(value: float, *, between: str, system: System) -> Judgement:
    limits = SERVICE_LIMITS.get(system, {}).get("neutral" if between.endswith("-N") else "legs")
    if limits is None or between == "N-G":
        return Judgement(
            finding=Finding.UNJUDGED, sentence="No published limit is on file for this one."
        )
    least, most = limits
    inside = least <= value <= most
    return Judgement(
        finding=Finding.WITHIN if inside else Finding.OUTSIDE,
        sentence=f"{value:g} V is {'within' if inside else 'outside'} {least:g} to {most:g} V "
        "at the service. Your utility’s own limits decide.",
        source=COMAR,
    )


def _insulation(
    value: float, *, system: System, test_v: int | None, temperature_c: float | None
) -> Judgement:
    volts, least = INSULATION[RATED_VOLTS[system]]
    if test_v != volts:
        return Judgement(
            finding=Finding.UNJUDGED,
            sentence=f"The suggested value is for a {volts} V DC test; this one was at {test_v} V.",
            source=NETA,
        )
    inside = value >= least
    measured_at = "" if temperature_c in (None, 20) else f", measured at {temperature_c:g} °C"
    return Judgement(
        finding=Finding.WITHIN if inside else Finding.OUTSIDE,
        sentence=f"{value:g} MΩ is {'at least' if inside else 'below'} the suggested {least:g} MΩ "
        f"(not corrected for temperature{measured_at}).",
        source=NETA,
    )


def _torque(value: float, *, marked_value: float | None) -> Judgement:
    if marked_value is None:
        return Judgement(
            finding=Finding.UNJUDGED,
            sentence="Record the value marked on the equipment to compare with.",
            source=MARKED,
        )
    if value == marked_value:
        return Judgement(
            finding=Finding.WITHIN, sentence=f"As marked, {value:g} lb-in.", source=MARKED
        )
    off = (value - marked_value) / marked_value
    return Judgement(
        finding=Finding.OUTSIDE,
        sentence=f"{value:g} lb-in is {abs(off):.0%} {'over' if off > 0 else 'under'} "
        f"the marked {marked_value:g} lb-in. The maker’s instructions decide.",
        source=MARKED,
    )
