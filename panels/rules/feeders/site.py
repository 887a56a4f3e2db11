"""What is a site, as far as load and fault current run through it: entrance, panels, feeders?"""

from __future__ import annotations

import enum
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from panels.rules import tree
from panels.rules.dwelling import Dwelling
from panels.rules.errors import BadDescription
from panels.rules.layout import System
from panels.rules.wire.sizes import Metal, Raceway, Size


class Occupancy(enum.StrEnum):
    """What the service is for, where the code asks for different things."""

    ONE_FAMILY = "one_family"
    TWO_FAMILY = "two_family"
    APARTMENTS = "apartments"
    OTHER = "other"

    @property
    def label(self) -> str:
        return {
            "one_family": "one-family dwelling",
            "two_family": "two-family dwelling",
            "apartments": "three or more dwellings",
            "other": "other than a dwelling",
        }[self.value]


class Use(enum.StrEnum):
    """What a dwelling's circuit serves whose load the code counts by area or by circuit."""

    GENERAL = "general"
    SMALL_APPLIANCE = "small_appliance"
    LAUNDRY = "laundry"
    NONE = ""


class Duty(enum.StrEnum):
    """What a breaker does."""

    BRANCH = "branch"
    FEEDER = "feeder"
    SOURCE = "source"
    SPARE = "spare"


@dataclass(frozen=True, kw_only=True)
class Run:
    """Conductors from one place to the next. None is "not recorded".

    `c` is the constant of a published worked example of the point-to-point method, ampere-feet
    per volt; it stands in for the one derived from Table 9 there and nowhere else.
    """

    size: Size | None = None
    metal: Metal | None = None
    raceway: Raceway | None = None
    length_ft: float | None = None
    sets: int = 1
    neutral: Size | None = None
    insulation_c: int | None = None
    terminal_c: int | None = None
    ambient_c: float | None = None
    bundled: int | None = None
    c: float | None = None

    def missing(self, *names: str) -> tuple[str, ...]:
        """Which of these fields are not recorded, by the words of the trade."""
        return tuple(WORDS[name] for name in names if getattr(self, name) is None)


WORDS = {
    "size": "the conductor's size",
    "metal": "the conductor's metal",
    "raceway": "the raceway",
    "length_ft": "the length",
}


@dataclass(frozen=True, kw_only=True)
class Transformer:
    """A transformer's nameplate. `x_over_r` is often not on it."""

    kva: float
    percent_z: float
    x_over_r: float | None = None
    secondary_protected_a: float | None = None


@dataclass(frozen=True, kw_only=True)
class Entrance:
    """Where the utility's supply becomes the site's: what it can deliver, and through what.

    `available_a` is the utility's figure where the service conductors begin: three-phase on a
    three-phase service, between the lines on a single-phase one.
    """

    system: System
    occupancy: Occupancy | None = None
    available_a: float | None = None
    available_to_neutral_a: float | None = None
    x_over_r: float | None = None
    stated: str = ""
    transformer: Transformer | None = None
    run: Run = field(default_factory=Run)
    disconnect_ka: float | None = None


@dataclass(frozen=True, kw_only=True)
class SiteLoad:
    """One load: `va` is all of it, None where its nameplate is not recorded.

    `leg` is the leg of a load to neutral where that does not follow from its breaker. Of loads
    with the same `one_of` never more than one runs (220.60).
    """

    name: str
    va: float | None
    continuous: bool = False
    to_neutral: bool = False
    leg: str = ""
    one_of: str = ""


@dataclass(frozen=True, kw_only=True)
class Breaker:
    """A breaker on its legs, what hangs on it, and the panel it feeds."""

    place: str
    name: str
    rating_a: float
    legs: tuple[str, ...]
    duty: Duty = Duty.BRANCH
    loads: tuple[SiteLoad, ...] = ()
    use: Use = Use.NONE
    feeds: str = ""
    run: Run = field(default_factory=Run)
    interrupting_ka: float | None = None
    full_rated: bool = False

    @property
    def told(self) -> str:
        return f"{self.place} {self.name}".strip()

    @property
    def used(self) -> bool:
        return self.duty not in (Duty.SPARE, Duty.SOURCE)


@dataclass(frozen=True, kw_only=True)
class Box:
    """A panelboard: its nameplate and its breakers. `through` names the panel whose lugs feed it;
    `run` are the conductors from there, or from the service."""

    name: str
    system: System
    rating_a: float
    bus_a: float
    main_a: float | None = None
    interrupting_ka: float | None = None
    breakers: tuple[Breaker, ...] = ()
    through: str = ""
    run: Run = field(default_factory=Run)
    transformer: Transformer | None = None


@dataclass(frozen=True, kw_only=True)
class Site:
    """The whole of it. `dwelling` and `method` say how the load of the dwelling is calculated."""

    entrance: Entrance
    boxes: tuple[Box, ...]
    unplaced: tuple[SiteLoad, ...] = ()
    dwelling: Dwelling | None = None
    method: str = ""

    @cached_property
    def by_name(self) -> Mapping[str, Box]:
        return {box.name: box for box in self.boxes}

    @cached_property
    def feeders(self) -> Mapping[str, tuple[Box, Breaker]]:
        """For each panel fed by a breaker: the panel the breaker is in, and the breaker."""
        return {
            breaker.feeds: (box, breaker)
            for box in self.boxes
            for breaker in box.breakers
            if breaker.feeds
        }

    @cached_property
    def above(self) -> Mapping[str, str | None]:
        """The panel each one is fed from; None: the service."""
        return {
            box.name: self.feeders[box.name][0].name
            if box.name in self.feeders
            else box.through or None
            for box in self.boxes
        }

    @cached_property
    def below(self) -> Mapping[str | None, list[str]]:
        return tree.children(self.above)

    def downward(self) -> Iterator[tuple[Box, int]]:
        """Every panel after what feeds it, with its depth under the service (1: fed by it)."""
        todo = [(name, 1) for name in reversed(self.below.get(None, []))]
        while todo:
            name, depth = todo.pop()
            yield self.by_name[name], depth
            todo += [(one, depth + 1) for one in reversed(self.below.get(name, []))]

    def run_to(self, box: Box) -> Run:
        """The conductors that feed a panel, from its breaker, the lugs or the service."""
        if box.name in self.feeders:
            return self.feeders[box.name][1].run
        return box.run if box.through else self.entrance.run

    def __post_init__(self) -> None:
        names = [box.name for box in self.boxes]
        if not names:
            raise BadDescription("panels", "Describe at least one panel.")
        for name in names:
            if names.count(name) > 1:
                raise BadDescription("panels", f"Two panels are named {name!r}. Name them apart.")
        fed = [breaker.feeds for box in self.boxes for breaker in box.breakers if breaker.feeds]
        fed += [box.name for box in self.boxes if box.through]
        sources = [box.through for box in self.boxes if box.through]
        for name in {*fed, *sources}:
            if name not in names:
                raise BadDescription("panels", f"No panel here is named {name!r}.")
            if fed.count(name) > 1:
                raise BadDescription("panels", f"{name} is fed in two places. Keep one of them.")
        self._check_reached()
        self._check_poles()

    def _check_reached(self) -> None:
        reached = {box.name for box, _ in self.downward()}
        for name in self.by_name:
            if name not in reached:
                raise BadDescription("panels", f"What feeds {name} is fed by {name} itself.")

    def _check_poles(self) -> None:
        for name, (_, breaker) in self.feeders.items():
            legs = self.by_name[name].system.legs
            if len(breaker.legs) < len(legs) and self.by_name[name].transformer is None:
                raise BadDescription(
                    "panels",
                    f"{name} has {len(legs)} legs and is fed by a breaker of"
                    f" {len(breaker.legs)} ({breaker.told}). Correct its poles or the system.",
                )
