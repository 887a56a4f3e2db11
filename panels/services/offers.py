"""Which circuits of the record most likely carry a load that is not on the list yet?"""

from __future__ import annotations

import re
from dataclasses import dataclass

from contractor.models import Site
from panels.models import Circuit
from panels.rules.dwelling import Kind
from panels.rules.layout import System
from panels.rules.supply import SUPPLIES

# Words in a circuit's name, the most telling first (common practice, no source). A match only
# fills in the kind: the nameplate is asked for, never guessed from a breaker.
TELLING: tuple[tuple[str, Kind], ...] = (
    ("heat pump", Kind.HEAT_PUMP),
    ("water heater", Kind.WATER_HEATER),
    ("air handler", Kind.SUPPLEMENT),
    ("air conditioner", Kind.COOLING),
    ("air conditioning", Kind.COOLING),
    ("a/c", Kind.COOLING),
    ("condenser", Kind.COOLING),
    ("cooktop", Kind.COOKTOP),
    ("oven", Kind.OVEN),
    ("range", Kind.RANGE),
    ("dryer", Kind.DRYER),
    ("baseboard", Kind.HEATING),
    ("electric heat", Kind.HEATING),
    ("furnace", Kind.APPLIANCE),
    ("vehicle", Kind.VEHICLE),
    ("car charger", Kind.VEHICLE),
    ("dishwasher", Kind.APPLIANCE),
    ("disposer", Kind.APPLIANCE),
    ("disposal", Kind.APPLIANCE),
    ("microwave", Kind.APPLIANCE),
    ("pump", Kind.MOTOR),
    ("hot tub", Kind.OTHER),
    ("spa", Kind.OTHER),
    ("kiln", Kind.OTHER),
    ("welder", Kind.OTHER),
)
# A range hood is no range, a dryer receptacle no dryer's nameplate.
NOT_THE_THING = ("receptacle", "counter", "light", "hood")


@dataclass(frozen=True)
class Offer:
    """A circuit with the kind its name tells and the voltage its poles tell."""

    circuit: Circuit
    kind: Kind
    volts: float


def offers(site: Site) -> list[Offer]:
    """Circuits with a telling name that no load is recorded on, panel by panel."""
    rows = (
        Circuit.objects.filter(
            panel__site=site, panel__retired_at=None, kind=Circuit.Kind.BRANCH, loads=None
        )
        .select_related("panel")
        .order_by("panel__name", "space", "half")
    )
    return [Offer(row, kind, volts_of(row)) for row in rows if (kind := kind_of(row.name))]


def kind_of(name: str) -> Kind | None:
    """The kind of load a circuit's name tells, or None."""
    if any(_says(name, words) for words in NOT_THE_THING):
        return None
    return next((kind for words, kind in TELLING if _says(name, words)), None)


def _says(name: str, words: str) -> bool:
    return re.search(rf"\b{re.escape(words)}s?\b", name, re.IGNORECASE) is not None


def volts_of(circuit: Circuit) -> float:
    """The nominal voltage between the legs, or a leg and the neutral, by the breaker's poles."""
    supply = SUPPLIES.get(System(circuit.panel.system), SUPPLIES[System.SPLIT_240])
    return float((supply.to_neutral if circuit.poles == 1 else supply.line).m_as("V"))
