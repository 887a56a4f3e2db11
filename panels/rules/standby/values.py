"""What does the code ask of optional standby systems? Shapes; the values are in the editions."""

from __future__ import annotations

from dataclasses import dataclass

from panels.rules.sourced import Sourced


@dataclass(frozen=True, kw_only=True)
class Standby:
    """What a source must carry by its transfer, and what belongs beside it.

    Each part of the whole load that has to be carried is 1: all the user runs at one time
    (manual), all of the calculated load (automatic), all that the management connects.
    """

    manual: Sourced[float]
    automatic: Sourced[float]
    managed: Sourced[float]
    transfer: Sourced[str]
    sign: Sourced[str]
    conductor_factor: Sourced[float]
