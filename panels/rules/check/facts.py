"""What is known of a panel when its record is checked, in plain values; None: not recorded."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from panels.rules.layout import System

# Volts to neutral and between two legs of each system.
VOLTS = {
    System.SPLIT_240: (120, 240),
    System.WYE_208_2LEG: (120, 208),
    System.WYE_208: (120, 208),
    System.DELTA_240: (120, 240),
    System.WYE_480: (277, 480),
}
# Occupancies that hold dwellings; the last where it is not recorded of which kind.
DWELLINGS = ("one_family", "two_family", "apartments", "dwelling")


@dataclass(frozen=True, kw_only=True)
class Draw:
    """A load on a circuit: what it draws in all (VA), from its nameplate."""

    name: str
    kind: str = "other"
    va: float | None = None
    volts: float | None = None
    continuous: bool = False
    motor: bool = False


@dataclass(frozen=True, kw_only=True)
class Fed:
    """The panel a feeder goes to."""

    name: str
    bus_a: int
    main_a: int | None = None


@dataclass(frozen=True, kw_only=True)
class Breaker:
    """A breaker and what hangs on it. `place` as the trade writes it: 1,3 or 5a."""

    id: str
    place: str
    kind: str = "branch"
    name: str = ""
    poles: int = 1
    rating_a: int
    legs: tuple[str, ...] = ()
    protection: str = ""
    serves: str = ""
    areas: tuple[str, ...] = ()
    wire_size: str = ""
    wire_material: str = ""
    wire_sets: int = 1
    insulation_c: int | None = None
    terminal_c: int | None = None
    bundled: int | None = None
    ambient_c: float | None = None
    length_ft: float | None = None
    multiwire: str = ""
    tied: bool | None = None
    grouped: bool | None = None
    full_rated: bool | None = None
    interrupting_ka: float | None = None
    tap_rule: str = ""
    feeds: Fed | None = None
    draws: tuple[Draw, ...] = ()

    @property
    def label(self) -> str:
        return f"{self.place} {self.name or self.kind}".strip()

    @property
    def in_use(self) -> bool:
        return self.kind != "spare"


@dataclass(frozen=True, kw_only=True)
class PanelPlate:
    """The panel itself. `fed_from` names what feeds it; empty: the service."""

    id: str
    name: str
    system: System = System.SPLIT_240
    rating_a: int
    bus_a: int
    main_a: int | None = None
    interrupting_ka: float | None = None
    directory_at: str = ""
    supply_marked: bool | None = None
    fault_marked_ka: float | None = None
    fault_marked_on: dt.date | None = None
    transformer_kva: float | None = None
    secondary_protected_a: float | None = None
    fed_from: str = ""
    feeder_a: int | None = None


@dataclass(frozen=True, kw_only=True)
class Connected:
    """A source in parallel with the utility: its rated output and where it joins.

    `circuit` is the breaker of this panel it comes in by, itself or through panels below;
    None with `position` "supply": ahead of the service disconnect.
    """

    id: str
    name: str
    kind: str
    rated_a: float | None = None
    circuit: str | None = None
    breaker_a: int | None = None
    position: str = ""
    labelled: bool | None = None


@dataclass(frozen=True, kw_only=True)
class Dwelling:
    """The home the panel serves."""

    bathrooms: int | None = None
    has_garage: bool | None = None
    service_a: int | None = None
    is_feeder: bool = False


@dataclass(frozen=True, kw_only=True)
class Entrance:
    """The service of the site."""

    occupancy: str = ""
    available_ka: float | None = None
    disconnect_outdoors: bool | None = None
    disconnect_marked: bool | None = None
    disconnect_ka: float | None = None


@dataclass(frozen=True, kw_only=True)
class Torque:
    """One torque reading: on what, the value, the marked value (lb-in), with which tool."""

    terminal: str
    value: float
    marked_value: float | None = None
    instrument: str = ""


@dataclass(frozen=True, kw_only=True)
class Record:
    """Everything the checker may look at. `elsewhere` are the breakers of the site's other panels.

    `calculated_a` is the calculated load of what feeds the panel; `available_ka` the fault current
    calculated at its line terminals, `most_ka` what it cannot exceed where that is all that is
    known.
    """

    site: str
    on: dt.date
    panel: PanelPlate
    breakers: tuple[Breaker, ...] = ()
    elsewhere: tuple[Breaker, ...] = ()
    sources: tuple[Connected, ...] = ()
    home: Dwelling | None = None
    entrance: Entrance | None = None
    torques: tuple[Torque, ...] = ()
    calculated_a: float | None = None
    available_ka: float | None = None
    most_ka: float | None = None

    @property
    def at_service(self) -> bool:
        """Is this the panel that the service feeds?"""
        return not self.panel.fed_from

    @property
    def occupancy(self) -> str:
        """one_family, two_family, apartments, dwelling (of some kind) or other; empty: unknown."""
        if self.entrance and self.entrance.occupancy:
            return self.entrance.occupancy
        return "dwelling" if self.home else ""

    @property
    def protected_at(self) -> int | None:
        """The overcurrent device that protects the busbar, A: the smaller of main and feeder."""
        known = [rating for rating in (self.panel.main_a, self.panel.feeder_a) if rating]
        return min(known) if known else None

    def volts(self, breaker: Breaker) -> int:
        to_neutral, between = VOLTS[self.panel.system]
        return to_neutral if breaker.poles == 1 else between
