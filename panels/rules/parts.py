"""What does one group of loads ask for by itself, such as the ranges of a building?"""

from __future__ import annotations

from panels.rules.cooking import cooking_demand
from panels.rules.demand import Demand
from panels.rules.dryers import dryer_demand
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription
from panels.rules.lighting import lighting_demand
from panels.rules.report import Premises, assemble, dwelling_of, section_of
from panels.rules.service import service_section
from panels.rules.working import Result


def cooking(premises: Premises, edition: Edition) -> Result:
    """Household cooking alone (220.55)."""
    demand = cooking_demand(dwelling_of(premises), edition)
    return _alone("cooking", "Household cooking alone", demand, premises, edition)


def dryers(premises: Premises, edition: Edition) -> Result:
    """Clothes dryers alone (220.54)."""
    demand = dryer_demand(dwelling_of(premises), edition)
    return _alone("dryers", "Clothes dryers alone", demand, premises, edition)


def lighting(premises: Premises, edition: Edition) -> Result:
    """General lighting, small-appliance and laundry circuits alone (220.52, Table 220.42)."""
    demand = lighting_demand(dwelling_of(premises), edition)
    return _alone("lighting", "Lighting and circuits alone", demand, premises, edition)


def _alone(key: str, title: str, demand: Demand, premises: Premises, edition: Edition) -> Result:
    if not demand.lines:
        raise BadDescription("loads", f"There is nothing to calculate: {title.lower()}.")
    service = service_section([demand], dwelling_of(premises), edition, alone=False)
    return assemble(key, title, edition, [section_of(demand), service])
