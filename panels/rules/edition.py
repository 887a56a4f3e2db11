"""What does an edition of the code have to say before a load can be calculated by it?

Shapes only. The values, their sections and how each was verified are in `panels/editions/`.
Every value is a `Sourced`; the next edition is the previous one with replacements.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any, TypeAlias, TypeVar

from contractor.units import Quantity
from panels.rules.check.values import Checks
from panels.rules.fault.edition import FaultRules
from panels.rules.shop.values import ShopRules
from panels.rules.sourced import Sourced
from panels.rules.standby.values import Standby
from panels.rules.tables import Bands, Tiers
from panels.rules.wire.edition import Wire

T = TypeVar("T")
Power: TypeAlias = "Sourced[Quantity]"
Factor: TypeAlias = "Sourced[float]"
Count: TypeAlias = "Sourced[int]"
Choice: TypeAlias = "Sourced[bool]"


@dataclass(frozen=True, kw_only=True)
class Lighting:
    """General lighting, small-appliance and laundry circuits of dwellings."""

    unit_load: Power
    unit_load_for_circuits: Power
    small_appliance: Power
    small_appliance_least: Count
    laundry: Power
    demand: Sourced[Tiers]


@dataclass(frozen=True, kw_only=True)
class Appliances:
    """Appliances fastened in place: from `count` of them on, `factor` applies."""

    factor: Factor
    count: Count
    least: Power
    least_horsepower: Factor


@dataclass(frozen=True, kw_only=True)
class DryerBand:
    """Percent for a number of dryers: `percent`, less `less_each` for each above `above`."""

    percent: float
    less_each: float
    above: int

    def factor(self, count: int) -> float:
        return (self.percent - self.less_each * (count - self.above)) / 100


@dataclass(frozen=True, kw_only=True)
class Dryers:
    """Household clothes dryers."""

    least: Power
    factors: Sourced[Bands[DryerBand]]
    three_phase: Count


@dataclass(frozen=True, kw_only=True)
class CookingBand:
    """Columns A and B in percent; column C as `base` plus `each` per appliance, in VA."""

    a: float
    b: float
    base: Quantity
    each: Quantity


@dataclass(frozen=True, kw_only=True)
class Cooking:
    """Household cooking: the table and the limits its columns and notes stand on.

    `note_4` is the most ovens beside a cooktop on one circuit, `note_5` names the occupancies
    whose household appliances the table is for too.
    """

    table: Sourced[Bands[CookingBand]]
    over: Power
    column_a_below: Power
    column_b_through: Power
    column_c_through: Power
    note_1_through: Power
    note_1_step: Factor
    note_2: Power
    note_3: Power
    note_4: Count
    note_5: Sourced[tuple[str, ...]]
    three_phase: Count
    circuit_least: Power
    circuit_least_from: Power


@dataclass(frozen=True, kw_only=True)
class Climate:
    """Heating against cooling in the standard method."""

    heating: Factor
    noncoincident: Factor


@dataclass(frozen=True, kw_only=True)
class Vehicles:
    """Vehicle supply equipment. `if_unknown` stands in for a missing nameplate (None: refuse)."""

    least: Power
    if_unknown: Sourced[Quantity | None]
    within_optional_tiers: Choice


@dataclass(frozen=True, kw_only=True)
class Neutral:
    """What the neutral carries: all of the unbalance, less what may be reduced."""

    unbalance: Factor
    household: Factor
    above: Power
    above_factor: Factor
    reduced_on_wye_three_wire: Choice


@dataclass(frozen=True, kw_only=True)
class Managed:
    """Loads held down by an energy management system: may its set point stand for them?"""

    allowed: Choice


@dataclass(frozen=True, kw_only=True)
class Optional:
    """The optional method for one dwelling."""

    least_rating: Power
    demand: Sourced[Tiers]
    cooling: Factor
    heat_pump: Factor
    supplement: Factor
    few_heaters: Factor
    many_heaters: Factor
    many_from: Count
    thermal_storage: Factor


@dataclass(frozen=True, kw_only=True)
class Existing:
    """Adding to an existing dwelling."""

    demand: Sourced[Tiers]
    climate: Factor
    untouched_within_tiers: Choice
    few_heaters_below: Count


@dataclass(frozen=True, kw_only=True)
class Multifamily:
    """The optional method for three or more dwellings, and two taken as if they were more."""

    factors: Sourced[Bands[float]]
    least_units: Count
    cooking_in_each: Choice
    climate_in_each: Choice
    without_cooking: Power
    two_family_as: Count


@dataclass(frozen=True, kw_only=True)
class Ratings:
    """Standard overcurrent ratings in amperes, and the least for a one-family service.

    A fraction of an ampere below `fraction_dropped` may be left out of a calculated current.
    """

    standard: Sourced[tuple[int, ...]]
    one_family_least: Power
    fraction_dropped: Factor


@dataclass(frozen=True, kw_only=True)
class Recorded:
    """A load taken from what a meter recorded: `share` of the maximum, and of what recording.

    A year of demand, or by exception at least `days_by_exception` of averages over
    `minutes_by_exception`. `source_bars`: not where a source feeds the site or peaks are shaved.
    """

    share: Factor
    days: Count
    days_by_exception: Count
    minutes_by_exception: Count
    occupied: Choice
    source_bars: Choice


@dataclass(frozen=True, kw_only=True)
class Edition:
    """One edition of the code, as far as load calculation needs it."""

    key: str
    title: str
    basis: str
    lighting: Lighting
    appliances: Appliances
    dryers: Dryers
    cooking: Cooking
    climate: Climate
    motor_extra: Factor
    vehicles: Vehicles
    neutral: Neutral
    managed: Managed
    optional: Optional
    existing: Existing
    multifamily: Multifamily
    ratings: Ratings
    recorded: Recorded
    wire: Wire
    checks: Checks
    shop: ShopRules
    fault: FaultRules
    standby: Standby
    amendments: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        ratings = self.ratings.standard.value
        if list(ratings) != sorted(set(ratings)):
            raise ValueError("standard ratings must rise")
        for path, sourced in values(self):
            if not sourced.cite:
                raise ValueError(f"{path} names no section")


def each(node: T, change: Callable[[Sourced[Any]], Sourced[Any]]) -> T:
    """A copy of `node` with `change` applied to every sourced value in it."""
    if isinstance(node, Sourced):
        return change(node)  # type: ignore[return-value]
    if not is_dataclass(node) or isinstance(node, type):
        return node
    return replace(node, **{f.name: each(getattr(node, f.name), change) for f in fields(node)})


def values(node: Any, path: str = "") -> list[tuple[str, Sourced[Any]]]:
    """Every sourced value under `node` with its dotted path, e.g. ``lighting.unit_load``."""
    if isinstance(node, Sourced):
        return [(path, node)]
    if not is_dataclass(node):
        return []
    found: list[tuple[str, Sourced[Any]]] = []
    for field in fields(node):
        found += values(getattr(node, field.name), f"{path}.{field.name}".lstrip("."))
    return found
