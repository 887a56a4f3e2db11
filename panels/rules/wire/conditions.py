"""How are the conductors installed, and what do they have to carry?"""

from __future__ import annotations

from dataclasses import dataclass

from contractor.units import Q, Quantity
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription
from panels.rules.fields import MOST, Fields
from panels.rules.quantities import AMPERE, LONGEST, read_quantity_any, show
from panels.rules.wire.sizes import Metal, metal_of

COLUMNS = (60, 75, 90)
TERMINALS = (60, 75)
REFERENCE_C = 30.0  # of the ampacity table
TOGETHER = 3  # current-carrying conductors that the ampacity table allows for
ABSOLUTE_ZERO, HOTTEST = -273.15, 1000.0
ZERO = Q(0.0, AMPERE)


@dataclass(frozen=True, kw_only=True)
class Conditions:
    """Metal, parallel sets and surroundings.

    `insulation` and `terminal` in degrees Celsius (None: by the rule for terminals); `ambient` in
    degrees Celsius; `together` counts current-carrying conductors in one raceway or bundle;
    `raceway_length` matters only where it is short.
    """

    metal: Metal
    sets: int = 1
    insulation: int | None = None
    terminal: int | None = None
    ambient: float = REFERENCE_C
    together: int = TOGETHER
    raceway_length: Quantity | None = None


@dataclass(frozen=True, kw_only=True)
class Loading:
    """The load in its two kinds, and the overcurrent device (None: not chosen yet).

    `receptacles`: a branch circuit for more than one cord-and-plug receptacle.
    """

    continuous: Quantity = ZERO
    noncontinuous: Quantity = ZERO
    device: Quantity | None = None
    receptacles: bool = False

    @property
    def current(self) -> Quantity:
        total: Quantity = self.continuous + self.noncontinuous
        return total

    def counted(self, edition: Edition) -> Quantity:
        """The load with what is continuous at 125 %."""
        factor = edition.wire.carrying.continuous.value
        total: Quantity = self.noncontinuous + self.continuous * factor
        return total


def conditions_from(fields: Fields) -> Conditions:
    """From ``metal``, ``sets``, ``insulation``, ``terminal``, ``ambient``, ``bundled`` and
    ``raceway_length``. Raises `BadDescription` naming the field."""
    return Conditions(
        metal=metal_of(fields.need("metal", '"cu"'), field=fields.at("metal")),
        sets=fields.count("sets", least=1, default=1),
        insulation=_column(fields, "insulation", COLUMNS),
        terminal=_column(fields, "terminal", TERMINALS),
        ambient=celsius(fields, "ambient", REFERENCE_C),
        together=fields.count("bundled", least=1, default=TOGETHER),
        raceway_length=limited(fields, "raceway_length", unit="in", example="18 in"),
    )


def loading_from(fields: Fields) -> Loading:
    """From ``continuous``, ``noncontinuous``, ``device`` and ``receptacles``."""
    device = limited(fields, "device", unit="A", example="100 A")
    if device is not None and not device.magnitude:
        raise fields.fault("device", "must be above zero. Write its rating, e.g. 100 A.")
    return Loading(
        continuous=_current(fields, "continuous"),
        noncontinuous=_current(fields, "noncontinuous"),
        device=device,
        receptacles=fields.yes("receptacles"),
    )


def needed(fields: Fields, name: str, *, unit: str, example: str) -> Quantity:
    """A quantity that has to be given, and that no slip of the key has made absurd."""
    given = fields.quantity(name, unit=unit, example=example)
    if given.magnitude > MOST:
        raise fields.fault(name, f'is above {MOST:,} {unit}. Write e.g. "{example}".')
    return given


def limited(fields: Fields, name: str, *, unit: str, example: str) -> Quantity | None:
    """The same where it may be left out."""
    left_out = fields.get(name) in (None, "")
    return None if left_out else needed(fields, name, unit=unit, example=example)


def _current(fields: Fields, name: str) -> Quantity:
    given = limited(fields, name, unit="A", example="24 A")
    return ZERO if given is None else given


def _column(fields: Fields, name: str, columns: tuple[int, ...]) -> int | None:
    """A column of the ampacity table: ``75`` or ``"75 C"``."""
    given = fields.get(name)
    if given in (None, ""):
        return None
    bare = isinstance(given, int) and not isinstance(given, bool)
    degrees = given if bare else celsius(fields, name, 0.0)
    for column in columns:
        if column - 1e-6 < degrees < column + 1e-6:
            return column
    choices, told = ", ".join(f'"{column} C"' for column in columns), repr(given)[:LONGEST]
    raise fields.fault(name, f"{told} is not a column of the table. There are {choices}.")


def celsius(fields: Fields, name: str, default: float) -> float:
    """A temperature of either scale in degrees Celsius; it may be below zero."""
    given = fields.get(name)
    if given in (None, ""):
        return default
    at, example = fields.at(name), "30 C"
    temperature = read_quantity_any(given, field=at, example=example, signed=True)
    if not temperature.is_compatible_with("degC"):
        raise BadDescription(at, f'{show(temperature)} is not a temperature. Write e.g. "30 C".')
    degrees = float(temperature.to("degC").magnitude)
    if not ABSOLUTE_ZERO < degrees < HOTTEST:
        raise BadDescription(at, f'{show(temperature)} is no temperature here. Write e.g. "30 C".')
    return round(degrees, 6)
