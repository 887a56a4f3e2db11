"""What does an edition of the code have to say before the load of a small shop is calculated?

Shapes only, as in `panels.rules.edition`; the values are in `panels/editions/shop.py`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from contractor.units import Quantity
from panels.rules.sourced import Sourced
from panels.rules.tables import Bands, Tiers


@dataclass(frozen=True, kw_only=True)
class ShopLighting:
    """General lighting by occupancy, and whether the unit loads hold the 125 % already.

    `unit_loads` are VA/ft2 by the key of the occupancy. `storage` is the demand of occupancies
    named in `storage_kinds`; all others count in full.
    """

    unit_loads: Sourced[Mapping[str, Quantity]]
    includes_continuous: Sourced[bool]
    storage: Sourced[Tiers]
    storage_kinds: Sourced[tuple[str, ...]]
    show_window: Sourced[Quantity]
    track: Sourced[Quantity]
    track_length: Sourced[Quantity]
    sign: Sourced[Quantity]
    signs_least: Sourced[int]


@dataclass(frozen=True, kw_only=True)
class ShopOutlets:
    """Receptacles and fixed multioutlet assemblies.

    `by_area` is the least load of receptacles in occupancies named in `by_area_kinds`.
    """

    receptacle: Sourced[Quantity]
    demand: Sourced[Tiers]
    by_area: Sourced[Quantity]
    by_area_kinds: Sourced[tuple[str, ...]]
    multioutlet: Sourced[Quantity]
    multioutlet_length: Sourced[Quantity]
    multioutlet_busy_length: Sourced[Quantity]


@dataclass(frozen=True, kw_only=True)
class ShopRules:
    """The general rules for premises that are no dwelling."""

    lighting: ShopLighting
    outlets: ShopOutlets
    kitchen: Sourced[Bands[float]]
    kitchen_largest: Sourced[int]
    nonlinear_on_wye: Sourced[bool]
