"""Is a voltage within the limits a regulation or a standard gives?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from panels.rules.layout import System
from panels.rules.readings.kinds import Judgement, Reading, judgement, within
from panels.rules.sourced import Mark, Sourced

Limits = Mapping[str, tuple[float, float]]  # by nominal voltage: least and most volts
COMAR = "COMAR 20.50.07.02, service voltage limits (Maryland)"
ILLINOIS = "83 Ill. Adm. Code 410.300, service voltage limits (Illinois)"
ANSI = "ANSI C84.1"
YOURS = "Your utility’s own limits decide."

# Nominal volts between the conductors of each system: (leg to neutral, between legs).
NOMINAL: dict[System, tuple[str, str]] = {
    System.SPLIT_240: ("120", "240"),
    System.WYE_208_2LEG: ("120", "208"),
    System.WYE_208: ("120", "208"),
    System.DELTA_240: ("120", "240 high leg"),
    System.WYE_480: ("277", "480"),
}


@dataclass(frozen=True, kw_only=True)
class Range:
    """One set of limits: at the service, or where it is used."""

    key: str
    title: str
    where: str
    limits: Sourced[Limits]


RANGES: tuple[Range, ...] = (
    Range(
        key="comar", title="Maryland, service", where="at the service",
        limits=Sourced(
            value={
                "120": (114, 126), "240": (228, 252), "208": (197, 219),
                "240 3-wire": (216, 252), "277": (249, 291), "480": (432, 504),
            },
            cite=COMAR, mark=Mark.READ, note=YOURS,
        ),
    ),
    Range(
        key="illinois", title="Illinois, service", where="at the service",
        limits=Sourced(
            value={"120": (113, 127)}, cite=ILLINOIS, mark=Mark.READ,
            note="It counts what lasts longer than two minutes.",
        ),
    ),
    Range(
        key="ansi_a_service", title="Range A, service", where="at the service",
        limits=Sourced(
            value={
                "120": (114, 126), "240": (228, 252), "240 high leg": (228, 252),
                "208": (197, 218), "480": (456, 504),
            },
            cite=ANSI, mark=Mark.MEMORY,
        ),
    ),
    Range(
        key="ansi_b_service", title="Range B, service", where="at the service",
        limits=Sourced(
            value={
                "120": (110, 127), "240": (220, 254), "240 high leg": (220, 254),
                "208": (191, 220), "480": (440, 508),
            },
            cite=ANSI, mark=Mark.MEMORY,
        ),
    ),
    Range(
        key="ansi_a_use", title="Range A, utilization", where="where it is used",
        limits=Sourced(
            value={"120": (108, 126), "240": (216, 252), "240 high leg": (216, 252)},
            cite=ANSI, mark=Mark.MEMORY,
        ),
    ),
    Range(
        key="ansi_b_use", title="Range B, utilization", where="where it is used",
        limits=Sourced(
            value={"120": (104, 127), "240": (208, 254), "240 high leg": (208, 254)},
            cite=ANSI, mark=Mark.MEMORY,
        ),
    ),
)  # fmt: skip

# The largest deviation from the mean, in percent of it.
UNBALANCE: Sourced[float] = Sourced(value=3.0, cite=ANSI, mark=Mark.MEMORY)


def nominal(system: System, between: str) -> str:
    """The nominal volts between two conductors; empty where none is expected."""
    if between == "N-G" or (system is System.DELTA_240 and between == "B-N"):
        return ""
    single, double = NOMINAL[system]
    return single if between.endswith("-N") else double


def judged(reading: Reading) -> Iterator[Judgement]:
    return by_ranges(reading.value, nominal(reading.system, reading.between))


def by_ranges(value: float, name: str) -> Iterator[Judgement]:
    """By each set of limits that covers this nominal voltage."""
    for one in RANGES:
        if name in one.limits.value:
            least, most = one.limits.value[name]
            inside = least <= value <= most
            yield judgement(
                one.key, one.title, one.limits, within(inside),
                f"{value:g} V is {'within' if inside else 'outside'} {least:g} to {most:g} V "
                f"{one.where}.",
            )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Unbalance:
    """Volts: their mean, the largest deviation from it, and that in percent of the mean."""

    mean: float
    deviation: float
    percent: float

    @property
    def judgement(self) -> Judgement:
        limit = UNBALANCE.value
        inside = self.percent <= limit
        return judgement(
            "unbalance", "Voltage unbalance", UNBALANCE, within(inside),
            f"{self.percent:.3g} % is {'at most' if inside else 'above'} {limit:g} %: "
            f"{self.deviation:.3g} V from the mean of {self.mean:.4g} V.",
        )  # fmt: skip


def unbalance(volts: Sequence[float]) -> Unbalance | None:
    """Of the three voltages between the legs of a three-phase supply; None if they are all 0."""
    mean = sum(volts) / len(volts)
    if not mean:
        return None
    deviation = max(abs(one - mean) for one in volts)
    return Unbalance(mean=mean, deviation=deviation, percent=deviation / mean * 100)
