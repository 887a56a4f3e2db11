"""What load does the standard method give (Article 220, Part III)?"""

from __future__ import annotations

from panels.rules.appliances import appliance_demand, full_demand
from panels.rules.climate import climate_demand
from panels.rules.cooking import cooking_demand
from panels.rules.demand import Demand, Share, item, shared
from panels.rules.dryers import dryer_demand
from panels.rules.dwelling import Building, Kind
from panels.rules.edition import Edition
from panels.rules.lighting import lighting_demand
from panels.rules.motors import largest, motor_demand, motors
from panels.rules.quantities import va
from panels.rules.report import Premises, dwelling_of, report
from panels.rules.vehicles import managed_demand, rated, vehicle_demand, vehicle_item
from panels.rules.working import Result, line

KEY, TITLE = "standard", "Standard method"


def standard(premises: Premises, edition: Edition) -> Result:
    """The calculated load, its current and the neutral of a dwelling or a building."""
    demands = part_three(premises, edition)
    return report(KEY, TITLE, premises, edition, counted=demands, unbalance=demands)


def part_three(premises: Premises, edition: Edition) -> list[Demand]:
    """Every group of loads after its demand rule, the largest motor last."""
    dwelling = dwelling_of(premises)
    demands = [
        lighting_demand(dwelling, edition),
        appliance_demand(dwelling, edition),
        dryer_demand(dwelling, edition),
        cooking_demand(dwelling, edition),
        vehicle_demand(dwelling, edition),
        managed_demand(dwelling, edition),
        full_demand(dwelling),
        house_demand(premises, edition),
    ]
    beside = largest(motors(demands))
    demands.append(climate_demand(dwelling, edition, beside=beside))
    return [*demands, motor_demand(demands, edition)]


def house_demand(premises: Premises, edition: Edition) -> Demand:
    """What the house itself uses, in full; vehicle supply as the edition counts it."""
    label, given = "House loads", premises.house_loads if isinstance(premises, Building) else ()
    loads = [rated(load, edition) for load in given]
    lines = [
        vehicle_item(load, edition) if load.kind is Kind.VEHICLE else item(load) for load in loads
    ]
    if loads:
        lines.append(line("house", label, va(sum(load.all for load in loads)), total=True))
    return shared("house", label, [Share(load=load) for load in loads], lines=lines)
