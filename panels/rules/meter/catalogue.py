"""What do the numbers of a Green Button file stand for (NAESB ESPI REQ.21 code lists)?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from panels.rules.meter.findings import length

# Codes read in published classes of the schema and in the sample files; see the tests.
UNITS = {
    5: "A", 29: "V", 33: "Hz", 38: "W", 61: "VA", 63: "VAr", 71: "VAh", 72: "Wh", 73: "VArh",
    119: "ft³", 132: "Btu", 169: "therm",
}  # fmt: skip
ENERGY = {72: "W", 71: "VA"}  # counted over the interval: divided by its length
POWER = {38: "W", 61: "VA"}  # already a rate
SERVICES = {0: "electricity", 1: "gas", 2: "water"}
DELIVERED, NET, RECEIVED, TOTAL = 1, 4, 19, 20
FLOWS = {DELIVERED: "delivered", NET: "net", RECEIVED: "received from the site", TOTAL: "total"}
# From memory: readings that go on counting, as the dial of a meter does.
REGISTERS = {1: "bulk quantity", 2: "continuous cumulative", 3: "cumulative"}
UNKNOWN_QUALITY = 255
MOST_POWER_OF_TEN = 12
QUALITIES = {
    0: "valid", 7: "manually edited", 8: "estimated by reference", 9: "estimated by interpolation",
    10: "questionable", 11: "derived", 12: "projected", 13: "mixed", 14: "raw",
    15: "weather-normalised", 16: "of other quality", 17: "validated", 18: "verified",
    19: "of revenue quality",
}  # fmt: skip
NOT_MEASURED = frozenset({7, 8, 9, 10, 11, 12, 13, 15, 16})


@dataclass(frozen=True, kw_only=True)
class Kind:
    """What a channel's numbers are; None where the file does not say."""

    unit: int | None = None
    power_of_ten: int | None = None
    flow: int | None = None
    accumulation: int | None = None
    seconds: int | None = None
    quality: int | None = None

    @property
    def measures(self) -> str:
        """ "W" or "VA" where a demand can be had from it, else empty."""
        return (ENERGY | POWER).get(self.unit or 0, "")

    @property
    def words(self) -> str:
        unit = "unit not stated" if self.unit is None else UNITS.get(self.unit, f"unit {self.unit}")
        flow = FLOWS.get(self.flow or 0, "")
        every = f"every {length(self.seconds)}" if self.seconds else ""
        return ", ".join(filter(None, [unit, flow, every]))


NAMES = {
    "unit": "uom",
    "power_of_ten": "powerOfTenMultiplier",
    "flow": "flowDirection",
    "accumulation": "accumulationBehaviour",
    "seconds": "intervalLength",
    "quality": "defaultQuality",
}


def kind_from(told: Mapping[str, str]) -> Kind:
    """A ReadingType from the texts of its elements. Raises ValueError where one cannot be."""
    kind = Kind(**{ours: int(told[name]) for ours, name in NAMES.items() if told.get(name)})
    if kind.power_of_ten is not None and abs(kind.power_of_ten) > MOST_POWER_OF_TEN:
        raise ValueError(told["powerOfTenMultiplier"])
    return kind
