"""Is a site a home or a shop, what feeds it, and which loads can it have?"""

from __future__ import annotations

from typing import Any

from contractor.models import Site
from panels.models import Home, Shop
from panels.rules.description import DWELLING_KINDS
from panels.rules.dwelling import COOKING, Kind, Service
from panels.rules.layout import System
from panels.rules.shop.premises import KINDS, Occupancy


def premises_of(site_id: Any) -> Home | Shop | None:
    """What is on record of the premises themselves; None before anything is."""
    home = Home.objects.filter(site=site_id).first()
    return home or Shop.objects.filter(site=site_id).first()


def premises_at(site: Site) -> Home | Shop | None:
    """The same of a site read with its ``home`` and ``shop``: no further query."""
    return getattr(site, "home", None) or getattr(site, "shop", None)


def load_rules(premises: Home | Shop | None) -> tuple[Service, frozenset[Kind]]:
    """What feeds the premises and the kinds of loads they can have; a home before it is said."""
    if isinstance(premises, Shop):
        taught = COOKING if premises.occupancy == Occupancy.SCHOOL.value else frozenset()
        return Service(system=System(premises.system)), KINDS | taught
    system = premises.system if premises else System.SPLIT_240.value
    return Service(system=System(system)), DWELLING_KINDS
