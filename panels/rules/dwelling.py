"""What has to be known about a dwelling or a building before its load can be calculated?"""

from __future__ import annotations

import enum
import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from contractor.units import Q, Quantity
from panels.rules.errors import BadDescription
from panels.rules.layout import System
from panels.rules.quantities import AMPERE, SQUARE_FOOT, VA, VOLT, show
from panels.rules.supply import ALL_SUPPLIES, Supply, supply_of


class Kind(enum.Enum):
    """What a load is, as far as the code treats it differently."""

    RANGE = "range"
    OVEN = "oven"
    COOKTOP = "cooktop"
    DRYER = "dryer"
    WATER_HEATER = "water_heater"
    APPLIANCE = "appliance"
    MOTOR = "motor"
    HEATING = "heating"
    THERMAL_STORAGE = "thermal_storage"
    COOLING = "cooling"
    HEAT_PUMP = "heat_pump"
    SUPPLEMENT = "supplement"
    VEHICLE = "vehicle"
    KITCHEN = "kitchen"
    OTHER = "other"

    @property
    def label(self) -> str:
        return LABELS[self]


LABELS = {
    Kind.RANGE: "range",
    Kind.OVEN: "wall oven",
    Kind.COOKTOP: "cooktop",
    Kind.DRYER: "clothes dryer",
    Kind.WATER_HEATER: "water heater",
    Kind.APPLIANCE: "appliance fastened in place",
    Kind.MOTOR: "motor",
    Kind.HEATING: "electric space heating",
    Kind.THERMAL_STORAGE: "thermal storage heating",
    Kind.COOLING: "air conditioning",
    Kind.HEAT_PUMP: "heat pump",
    Kind.SUPPLEMENT: "supplementary heat of a heat pump",
    Kind.VEHICLE: "vehicle supply equipment",
    Kind.KITCHEN: "commercial kitchen equipment",
    Kind.OTHER: "other load",
}

COOKING = frozenset({Kind.RANGE, Kind.OVEN, Kind.COOKTOP})
HEATING_KINDS = frozenset({Kind.HEATING, Kind.THERMAL_STORAGE, Kind.SUPPLEMENT})
CLIMATE = HEATING_KINDS | {Kind.COOLING, Kind.HEAT_PUMP}
COMPRESSORS = frozenset({Kind.COOLING, Kind.HEAT_PUMP})
# What a nameplate says on 120 V to neutral and on 208 or 240 V between legs (common practice).
LEG_VOLTS = (105.0, 130.0)
LINE_VOLTS = (195.0, 255.0)
# The same of a 480Y/277 V supply, which feeds no dwelling.
HIGH_LEG_VOLTS = (260.0, 290.0)
HIGH_LINE_VOLTS = (430.0, 510.0)


@dataclass(frozen=True, kw_only=True)
class Load:
    """One kind of equipment, `count` times. `apparent` is the nameplate of one, in VA.

    `apparent` may be None for vehicle supply equipment only (nameplate unknown). `current` is
    the nameplate current where the nameplate gives amperes. `leg` is the leg a load to neutral
    stands on, where recorded. `locked_out` says of a heat pump that its compressor does not run
    together with the supplementary heat. `new` marks what is being added to an existing dwelling.
    Of loads with the same `one_of` never more than one runs (220.60). `phases` is 3 for
    equipment on all three legs; its `volts` are those between two of them.
    """

    kind: Kind
    name: str
    apparent: Quantity | None
    volts: Quantity
    count: int = 1
    current: Quantity | None = None
    leg: str = ""
    motor: bool = False
    horsepower: float | None = None
    controlled_separately: bool = False
    locked_out: bool = False
    continuous: bool = False
    managed: bool = False
    new: bool = False
    one_of: str = ""
    phases: int = 1

    def __post_init__(self) -> None:
        if self.count < 1:
            raise BadDescription("count", f"{self.name}: there must be at least one.")
        if self.apparent is None and self.kind is not Kind.VEHICLE:
            raise BadDescription("nameplate", f"{self.name}: give the nameplate rating.")
        for name, unit in (("apparent", VA), ("current", AMPERE), ("volts", VOLT)):
            given = getattr(self, name)
            if given is not None and not given.is_compatible_with(unit):
                raise BadDescription(name, f"{self.name}: {show(given)} is not in {unit:~P}.")
        if not self.to_neutral and not _between(self.volts, LINE_VOLTS, HIGH_LINE_VOLTS):
            told = f"{show(self.volts)} is neither a voltage to neutral (120 V) nor between legs"
            raise BadDescription("volts", f"{self.name}: {told} (208 or 240 V).")
        if self.leg and not self.to_neutral:
            raise BadDescription("leg", f"{self.name}: a load between legs stands on both.")
        if self.phases not in (1, 3):
            raise BadDescription("phases", f"{self.name}: 1 or 3, not {self.phases}.")
        if self.phases == 3 and self.to_neutral:
            told = f"three phases take the voltage between legs, not {show(self.volts)}"
            raise BadDescription("volts", f"{self.name}: {told}.")

    @property
    def to_neutral(self) -> bool:
        """Connected between one leg and the neutral, judged by its voltage."""
        return _between(self.volts, LEG_VOLTS, HIGH_LEG_VOLTS)

    @property
    def high(self) -> bool:
        """Of a voltage only a 480Y/277 V supply has."""
        return _between(self.volts, HIGH_LEG_VOLTS, HIGH_LINE_VOLTS)

    @property
    def driven(self) -> bool:
        """A motor, or equipment whose largest part is one (compressors are)."""
        return self.motor or self.kind is Kind.MOTOR or self.kind in COMPRESSORS

    @property
    def one(self) -> float:
        """The nameplate of one in VA."""
        return 0.0 if self.apparent is None else float(self.apparent.m_as(VA))

    @property
    def all(self) -> float:
        """The nameplates of all of them in VA."""
        return self.one * self.count

    def amperes(self, supply: Supply) -> float:
        """The current of one on its legs: by nameplate where given, else at nominal volts."""
        if self.current is not None:
            return float(self.current.m_as(AMPERE))
        nominal = supply.to_neutral if self.to_neutral else supply.line
        wires = math.sqrt(3) if self.phases == 3 else 1.0
        return self.one / (float(nominal.m_as(VOLT)) * wires)


def _between(volts: Quantity, *bands: tuple[float, float]) -> bool:
    return any(least <= float(volts.m_as(VOLT)) <= most for least, most in bands)


@dataclass(frozen=True, kw_only=True)
class Service:
    """What feeds the dwelling. `rating` is that of the disconnect, where one is chosen already."""

    system: System = System.SPLIT_240
    rating: Quantity | None = None
    feeder: bool = False

    def __post_init__(self) -> None:
        if self.rating is not None and not self.rating.is_compatible_with(AMPERE):
            raise BadDescription("rating", f"{show(self.rating)} is not in amperes.")

    @property
    def supply(self) -> Supply:
        return ALL_SUPPLIES[self.system]


@dataclass(frozen=True, kw_only=True)
class Equipped:
    """What every dwelling and shop has: loads, what feeds them, and energy management if any."""

    loads: tuple[Load, ...] = ()
    service: Service = field(default_factory=Service)
    managed_at: Quantity | None = None

    def __post_init__(self) -> None:
        managed = [load for load in self.loads if load.managed]
        if bool(managed) != (self.managed_at is not None):
            raise BadDescription(
                "managed_at",
                "Give the set point of the energy management and mark the loads it holds down.",
            )
        three = [load.name for load in self.loads if load.phases == 3]
        if three and self.service.supply.phases != 3:
            told = f"{three[0]} runs on three phases; {self.service.system.label} has none."
            raise BadDescription("loads", told)

    def of(self, *kinds: Kind) -> tuple[Load, ...]:
        """The loads of these kinds that no energy management holds down."""
        return tuple(load for load in self.loads if load.kind in kinds and not load.managed)

    @property
    def managed(self) -> tuple[Load, ...]:
        return tuple(load for load in self.loads if load.managed)


@dataclass(frozen=True, kw_only=True)
class Dwelling(Equipped):
    """One dwelling. `floor_area` by outside dimensions, without porches, garage and the like."""

    floor_area: Quantity
    small_appliance_circuits: int
    laundry_circuits: int
    units: int = 1

    def __post_init__(self) -> None:
        super().__post_init__()
        supply_of(self.service.system)
        if not self.floor_area.is_compatible_with(SQUARE_FOOT):
            raise BadDescription("floor_area", f"{show(self.floor_area)} is not an area.")
        for name in ("small_appliance_circuits", "laundry_circuits"):
            if getattr(self, name) < 0:
                raise BadDescription(name, "There cannot be fewer than none.")
        for load in self.loads:
            if load.high or load.kind is Kind.KITCHEN:
                told = f"{load.name}: {show(load.volts)}, {load.kind.label}, is for a shop."
                raise BadDescription("loads", told)


@dataclass(frozen=True, kw_only=True)
class Unit:
    """So many dwellings of one kind in a building."""

    count: int
    dwelling: Dwelling
    name: str = ""

    def __post_init__(self) -> None:
        if self.count < 1:
            raise BadDescription("count", "There must be at least one dwelling of a kind.")


@dataclass(frozen=True, kw_only=True)
class Building:
    """Several dwellings behind one service or feeder, and what the house itself uses."""

    units: tuple[Unit, ...]
    house_loads: tuple[Load, ...] = ()
    service: Service = field(default_factory=lambda: Service(feeder=True))

    def __post_init__(self) -> None:
        supply_of(self.service.system)
        if not self.units:
            raise BadDescription("units", "Describe at least one kind of dwelling.")

    @property
    def count(self) -> int:
        return sum(unit.count for unit in self.units)

    @property
    def pooled(self) -> Dwelling:
        """All dwellings taken together, for the rules that look at the sum (220.40)."""
        area = sum(unit.count * unit.dwelling.floor_area.m_as(SQUARE_FOOT) for unit in self.units)
        return Dwelling(
            floor_area=Q(area, SQUARE_FOOT),
            small_appliance_circuits=self._sum("small_appliance_circuits"),
            laundry_circuits=self._sum("laundry_circuits"),
            loads=tuple(self._loads()),
            service=self.service,
            managed_at=self._managed_at(),
            units=self.count,
        )

    def _managed_at(self) -> Quantity | None:
        points = [
            unit.count * unit.dwelling.managed_at.m_as(VA)
            for unit in self.units
            if unit.dwelling.managed_at is not None
        ]
        return Q(sum(points), VA) if points else None

    def _sum(self, name: str) -> int:
        return sum(unit.count * int(getattr(unit.dwelling, name)) for unit in self.units)

    def _loads(self) -> Iterator[Load]:
        for unit in self.units:
            for load in unit.dwelling.loads:
                yield replace(load, count=load.count * unit.count)
