"""What has to be known about a small shop before its load can be calculated?"""

from __future__ import annotations

import enum
from dataclasses import dataclass

from contractor.units import Q, Quantity, ureg
from panels.rules.dwelling import COOKING, Equipped, Kind
from panels.rules.errors import BadDescription
from panels.rules.quantities import SQUARE_FOOT, VA, show

KINDS = frozenset(Kind) - COOKING - {Kind.DRYER}
NO_LENGTH = Q(0.0, "ft")
LENGTHS = ("show_window", "track", "multioutlet", "multioutlet_busy")


class Occupancy(enum.Enum):
    """What the premises are used for, as the lighting tables tell it apart."""

    BANK = "bank"
    BARBER = "barber"
    CHURCH = "church"
    CLINIC = "clinic"
    CLUB = "club"
    EXERCISE = "exercise"
    GARAGE_STORAGE = "garage_storage"
    HOTEL = "hotel"
    LIBRARY = "library"
    LOFT = "loft"
    OFFICE = "office"
    RESTAURANT = "restaurant"
    SCHOOL = "school"
    STORE = "store"
    VEHICLE_SERVICE = "vehicle_service"
    WAREHOUSE = "warehouse"
    WORKSHOP = "workshop"

    @property
    def label(self) -> str:
        return LABELS[self]


LABELS = {
    Occupancy.BANK: "bank",
    Occupancy.BARBER: "barber shop or beauty parlor",
    Occupancy.CHURCH: "church or other place of worship",
    Occupancy.CLINIC: "clinic or practice",
    Occupancy.CLUB: "club",
    Occupancy.EXERCISE: "exercise center",
    Occupancy.GARAGE_STORAGE: "garage, vehicles stored",
    Occupancy.HOTEL: "hotel or motel",
    Occupancy.LIBRARY: "library",
    Occupancy.LOFT: "factory or industrial loft",
    Occupancy.OFFICE: "office",
    Occupancy.RESTAURANT: "restaurant",
    Occupancy.SCHOOL: "school",
    Occupancy.STORE: "store",
    Occupancy.VEHICLE_SERVICE: "vehicle repair and service",
    Occupancy.WAREHOUSE: "warehouse or storage",
    Occupancy.WORKSHOP: "workshop",
}


@dataclass(frozen=True, kw_only=True)
class Shop(Equipped):
    """A small shop. `floor_area` by outside dimensions.

    `lighting` is the connected lighting load where it is known; the larger of it and the unit
    load counts. `receptacles` are yokes (single or duplex). `multioutlet` is the length of fixed
    multioutlet assemblies whose outlets are seldom used together, `multioutlet_busy` of those
    used at the same time. `signs` are sign outlets.
    """

    occupancy: Occupancy
    floor_area: Quantity
    lighting: Quantity | None = None
    receptacles: int = 0
    show_window: Quantity = NO_LENGTH
    track: Quantity = NO_LENGTH
    multioutlet: Quantity = NO_LENGTH
    multioutlet_busy: Quantity = NO_LENGTH
    signs: int = 1

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.floor_area.is_compatible_with(SQUARE_FOOT):
            raise BadDescription("floor_area", f"{show(self.floor_area)} is not an area.")
        if self.lighting is not None and not self.lighting.is_compatible_with(VA):
            raise BadDescription("lighting", f"{show(self.lighting)} is not in VA.")
        for name in LENGTHS:
            length = getattr(self, name)
            if not length.is_compatible_with(ureg.ft):
                raise BadDescription(name, f"{show(length)} is not a length.")
        for name in ("receptacles", "signs"):
            if getattr(self, name) < 0:
                raise BadDescription(name, "There cannot be fewer than none.")
        for load in self.loads:
            if load.kind not in (*KINDS, *COOKING):
                told = f"{load.name}: household drying is counted in dwellings only."
                raise BadDescription("loads", told)
