"""How long is the run, at which voltage, and how far may it fall?"""

from __future__ import annotations

from dataclasses import dataclass

from contractor.units import Quantity
from panels.rules.fields import Fields
from panels.rules.quantities import VOLT
from panels.rules.wire.conditions import limited, needed
from panels.rules.wire.sizes import Raceway, raceway_of


@dataclass(frozen=True, kw_only=True)
class Run:
    """One way from the source to the load. `volts` between the conductors of one phase, or
    between phases of three; a `power_factor` of None means the worst for the conductor."""

    length: Quantity
    volts: Quantity | None = None
    phases: int = 1
    raceway: Raceway = Raceway.PVC
    power_factor: float | None = None

    @property
    def feet(self) -> float:
        return float(self.length.m_as("ft"))

    @property
    def sending(self) -> float | None:
        """Volts at the source, as a number."""
        return None if self.volts is None else float(self.volts.m_as(VOLT))


def run_from(fields: Fields) -> Run:
    """From ``length``, ``volts``, ``phases``, ``raceway`` and ``power_factor``.

    A length says its unit (ft or m). Raises `BadDescription` naming the field.
    """
    power_factor = fields.number("power_factor")
    if power_factor is not None and power_factor > 1:
        raise fields.fault("power_factor", f"{power_factor:g} must be above 0 and at most 1.")
    volts = limited(fields, "volts", unit="V", example="240 V")
    if volts is not None and not volts.magnitude:
        raise fields.fault("volts", "must be above zero. Write e.g. 240 V.")
    return Run(
        length=needed(fields, "length", unit="ft", example="150 ft"),
        volts=volts,
        phases=phases_from(fields),
        raceway=raceway_of(fields.get("raceway") or "pvc", field=fields.at("raceway")),
        power_factor=power_factor,
    )


def phases_from(fields: Fields) -> int:
    phases = fields.count("phases", least=1, default=1)
    if phases not in (1, 3):
        raise fields.fault("phases", f"{phases} must be 1 or 3.")
    return phases
