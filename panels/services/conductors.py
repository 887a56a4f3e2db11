"""What does a circuit's record say about its conductors, as a question about them needs it?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from contractor.errors import Refused
from panels.models import Circuit
from panels.rules.description import load_from
from panels.rules.dwelling import Kind, Service
from panels.rules.fields import Fields
from panels.rules.layout import System
from panels.rules.supply import ALL_SUPPLIES, Supply
from panels.services.load import described_load

PART_OF_BREAKER = 0.8  # taken for the load where none is recorded (common practice, no source)
WARMEST_TERMINAL = 75  # the rules know no warmer one


@dataclass(frozen=True, kw_only=True)
class Carries:
    """The amperes of a circuit in their two kinds, and where they are known from."""

    continuous: float
    noncontinuous: float
    told: str


def recorded(circuit: Circuit, carries: Carries) -> dict[str, Any]:
    """What the record and its loads answer of a question about conductors; blanks left out."""
    terminal = circuit.terminal_c
    known = {
        "device": circuit.rating_a,
        "continuous": f"{carries.continuous:g}" if carries.continuous else "",
        "noncontinuous": f"{carries.noncontinuous:g}" if carries.noncontinuous else "",
        "volts": f"{volts_of(circuit):g}",
        "phases": "3" if circuit.poles == 3 else "1",
        "size": circuit.wire_size,
        "metal": circuit.wire_material,
        "sets": circuit.wire_sets,
        "insulation": circuit.insulation_c,
        "terminal": min(terminal, WARMEST_TERMINAL) if terminal else None,
        "ground": circuit.ground_size,
        "length": f"{circuit.length_ft:g} ft" if circuit.length_ft else "",
        "raceway": circuit.raceway,
        "ambient": f"{circuit.ambient_c:g} C" if circuit.ambient_c is not None else "",
        "bundled": circuit.bundled,
        "receptacles": circuit.serves in ("receptacles", "both"),
        "drop_limit": 3,
    }
    return {name: value for name, value in known.items() if value not in (None, "", 0)}


def supply_of(circuit: Circuit) -> Supply:
    return ALL_SUPPLIES[System(circuit.panel.system)]


def volts_of(circuit: Circuit) -> float:
    """Nominal volts between its poles, or to the neutral of a single pole."""
    supply = supply_of(circuit)
    return float((supply.to_neutral if circuit.poles == 1 else supply.line).m_as("V"))


def carried_by(circuit: Circuit) -> Carries:
    """The amperes of the loads recorded on it; 80 % of the breaker where there are none."""
    loads = list(circuit.loads.all())
    service = Service(system=System(circuit.panel.system))
    kinds = {True: 0.0, False: 0.0}
    try:
        for load in loads:
            one = load_from(Fields(plain=described_load(load)), service, kinds=frozenset(Kind))
            kinds[one.continuous] += one.amperes(supply_of(circuit)) * one.count
    except Refused:
        loads = []
    if not loads:
        part = circuit.rating_a * PART_OF_BREAKER
        told = _("No load is recorded on this circuit: 80 % of the breaker is taken.")
        return Carries(continuous=0.0, noncontinuous=round(part, 1), told=told)
    names = ", ".join(str(load) for load in loads)
    told = _("Load as recorded: %(loads)s.") % {"loads": names}
    return Carries(
        continuous=round(kinds[True], 1), noncontinuous=round(kinds[False], 1), told=told
    )
