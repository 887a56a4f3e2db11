"""Is an insulation resistance what a table suggests, measured at the voltage it asks for?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from panels.rules.layout import System
from panels.rules.readings.kinds import Finding, Judgement, Reading, judgement, within
from panels.rules.sourced import Mark, Sourced

NETA = "ANSI/NETA MTS-2019, Table 100.1, suggested values at 20 °C"
CABLE = "ANSI/NETA ATS-2009, 7.3.2"
INSTALLATION = "IEC 60364-6 style, as published by Bane NOR"

# Highest rated volts of the equipment: (test V DC, least MΩ); the last row is 34,000 V and above.
TABLE: Sourced[Mapping[float, tuple[int, float]]] = Sourced(
    value={
        250: (500, 25), 600: (1000, 100), 1000: (1000, 100), 2500: (1000, 500),
        5000: (2500, 1500), 8000: (2500, 2500), 15000: (2500, 5000), 25000: (5000, 10000),
        math.inf: (5000, 100000),
    },
    cite=NETA, mark=Mark.READ,
)  # fmt: skip
# Between 25,000 and 34,000 V the table has no row.
GAP = (25000, 34000)

# Rated volts of a cable: test V DC, for one minute.
CABLES: Sourced[Mapping[int, int]] = Sourced(
    value={300: 500, 600: 1000}, cite=CABLE, mark=Mark.READ
)

# Test V DC: least MΩ of an installation, whatever its rated voltage.
BY_TEST: Sourced[Mapping[int, float]] = Sourced(
    value={250: 0.5, 500: 1.0, 1000: 1.0}, cite=INSTALLATION, mark=Mark.READ
)

# Insulation resistance halves for so many kelvins more.
HALVES: Sourced[float] = Sourced(
    value=10.0, cite="Rule of thumb in place of NETA Table 100.14", mark=Mark.MEMORY
)
REFERENCE_C = 20.0
RATED_VOLTS = {
    System.SPLIT_240: 250,
    System.WYE_208_2LEG: 250,
    System.WYE_208: 250,
    System.DELTA_240: 250,
    System.WYE_480: 600,
}


def at_reference(value: float, celsius: float) -> float:
    """MΩ as they would be at 20 °C, by the rule that they halve for each 10 °C more [M]."""
    return float(value * 2 ** ((celsius - REFERENCE_C) / HALVES.value))


def row(rated_v: float) -> tuple[int, float] | None:
    """(test V DC, least MΩ) for equipment rated so; None where the table has no row."""
    if GAP[0] < rated_v < GAP[1]:
        return None
    return next(found for most, found in TABLE.value.items() if rated_v <= most)


def judged(reading: Reading) -> Iterator[Judgement]:
    rated = reading.rated_v or RATED_VOLTS[reading.system]
    yield _by_table(reading, rated)
    if reading.test_v is not None and reading.test_v in BY_TEST.value:
        yield _by_test(reading, BY_TEST.value[reading.test_v])
    if rated in CABLES.value:
        yield _cable(reading, CABLES.value[int(rated)])


def _by_table(reading: Reading, rated: float) -> Judgement:
    key, title = "neta", f"Equipment rated {rated:g} V"
    found = row(rated)
    if found is None:
        told = "The table has no row between 25,000 and 34,000 V."
        return judgement(key, title, TABLE, Finding.UNJUDGED, told)
    volts, least = found
    if reading.test_v != volts:
        told = (
            f"The suggested value is for a {volts} V DC test; this one was at {reading.test_v} V."
        )
        return judgement(key, title, TABLE, Finding.UNJUDGED, told)
    if reading.temperature_c in (None, REFERENCE_C):
        words = "" if reading.temperature_c else " (not corrected for temperature)"
        return judgement(
            key, title, TABLE, within(reading.value >= least),
            f"{_against(reading.value, least)}{words}.",
        )  # fmt: skip
    return _corrected(reading, least, key, title)


def _corrected(reading: Reading, least: float, key: str, title: str) -> Judgement:
    """By the corrected value, with the uncorrected beside it: the rule behind it is unread."""
    assert reading.temperature_c is not None  # noqa: S101
    at_20 = at_reference(reading.value, reading.temperature_c)
    inside, plainly = at_20 >= least, reading.value >= least
    sentence = (
        f"{reading.value:g} MΩ at {reading.temperature_c:g} °C is about {at_20:.3g} MΩ at 20 °C: "
        f"{'at least' if inside else 'below'} the suggested {least:g} MΩ."
    )
    if inside != plainly:
        sentence += " Uncorrected it is the other way round: measure again nearer 20 °C."
    told = judgement(key, title, TABLE, within(inside), sentence)
    return Judgement(**{**vars(told), "confirm": HALVES.confirm})


def _by_test(reading: Reading, least: float) -> Judgement:
    return judgement(
        "installation", f"Installation, {reading.test_v} V test", BY_TEST,
        within(reading.value >= least), f"{_against(reading.value, least)}.",
    )  # fmt: skip


def _cable(reading: Reading, volts: int) -> Judgement:
    """The test voltage alone: the section gives no least resistance of its own."""
    right = reading.test_v == volts
    return judgement(
        "cable", "Cable, test voltage", CABLES, within(right),
        f"Cable of this rating is tested at {volts} V DC for one minute; this was at "
        f"{reading.test_v} V.",
    )  # fmt: skip


def _against(value: float, least: float) -> str:
    return f"{value:g} MΩ is {'at least' if value >= least else 'below'} the suggested {least:g} MΩ"
