"""Keep what a load calculation needs to know about a small shop; a site is a home or a shop."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from typing import Any, TypedDict, Unpack

from contractor.history import recorded
from contractor.models import Person, Site
from panels.models import Home, Load, Shop
from panels.services.guards import checked, lock_site, put_in
from panels.services.load import described_load
from panels.services.premises import only_one

LENGTHS = {
    "show_window": "show_window_ft",
    "track": "track_ft",
    "multioutlet": "multioutlet_ft",
    "multioutlet_busy": "multioutlet_busy_ft",
}


class ShopFacts(TypedDict, total=False):
    """What is asked about the shop itself."""

    occupancy: str
    floor_area_ft2: float
    lighting_va: float | None
    receptacles: int
    show_window_ft: float
    track_ft: float
    signs: int
    multioutlet_ft: float
    multioutlet_busy_ft: float
    system: str
    service_a: int | None
    is_feeder: bool
    managed_a: float | None


@recorded
def record_shop(
    *, site: Site, by: Person, id: uuid.UUID | None = None, rev: int | None = None,
    instead: bool = False, **facts: Unpack[ShopFacts],
) -> Shop:  # fmt: skip
    """The shop's facts, made or corrected. Raises Invalid field by field, and Stale.

    Refused where the site is on record as a home, unless the shop is to stand `instead` of it.
    """
    site = lock_site(site.pk)
    only_one(Home.objects.filter(site=site).first(), instead=instead)
    shop = Shop.objects.select_for_update().filter(site=site).first()
    if shop is None:
        shop = Shop(id=id or uuid.uuid4(), site=site)
    else:
        shop.require_rev(rev)
    put_in(shop, dict(facts), allowed=ShopFacts.__annotations__)
    checked(shop, exclude=["site"])
    shop.save()
    shop.refresh_from_db()
    return shop


def described_shop(shop: Shop, loads: Iterable[Load]) -> dict[str, Any]:
    """The shop as `panels.rules.shop.description` reads it; also kept with a calculation."""
    plain: dict[str, Any] = {
        "occupancy": shop.occupancy,
        "floor_area": {"value": shop.floor_area_ft2, "unit": "ft2"},
        "receptacles": shop.receptacles,
        "signs": shop.signs,
        "service": {"system": shop.system, "feeder": shop.is_feeder},
        "loads": [described_load(load) for load in loads],
    }
    for name, column in LENGTHS.items():
        if length := getattr(shop, column):
            plain[name] = {"value": length, "unit": "ft"}
    if shop.lighting_va:
        plain["lighting"] = {"value": shop.lighting_va, "unit": "VA"}
    if shop.service_a:
        plain["service"]["rating"] = {"value": shop.service_a, "unit": "A"}
    if shop.managed_a:
        plain["managed_at"] = {"value": shop.managed_a, "unit": "A"}
    return plain
