"""What can be measured at a panel, can it be true, and what do published values say of it?

A reading is judged by every named criterion that covers it, side by side: which of them applies is
said by the place and the contract, not here. What none covers is not judged, and that is said.
"""

from collections.abc import Callable, Iterator

from panels.rules.readings import insulation, torque, voltage
from panels.rules.readings.insulation import NETA
from panels.rules.readings.kinds import Finding, Judgement, Measured, Reading
from panels.rules.readings.typed import between_legs, conductors, fault, pairs
from panels.rules.readings.voltage import COMAR, unbalance

JUDGES: dict[Measured, Callable[[Reading], Iterator[Judgement]]] = {
    Measured.VOLTAGE: voltage.judged,
    Measured.INSULATION: insulation.judged,
    Measured.TORQUE: torque.judged,
}
NONE = Judgement(finding=Finding.UNJUDGED, sentence="No published limit is on file for this one.")


def judgements(reading: Reading) -> tuple[Judgement, ...]:
    """By each criterion that covers the reading, the one that was read in print first."""
    return tuple(JUDGES[reading.kind](reading)) or (NONE,)


def judge(reading: Reading) -> Judgement:
    """By the first criterion."""
    return judgements(reading)[0]


__all__ = [
    "COMAR", "NETA", "Finding", "Judgement", "Measured", "Reading", "between_legs", "conductors",
    "fault", "judge", "judgements", "pairs", "unbalance",
]  # fmt: skip
