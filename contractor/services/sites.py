"""Add, change and remove sites, and place them on the map as well as is known."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import ProtectedError
from django.utils.translation import gettext as _

from contractor import places, queries
from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Customer, Firm, Person, Site
from contractor.models.fields import check_postal
from contractor.services.saving import invalid, save_clean

Placed = Site.Placed


@recorded
def add_site(
    *,
    customer: Customer,
    values: Mapping[str, Any],
    by: Person,
    now: dt.datetime,
    id: uuid.UUID | None = None,
    placed: Placed = Placed.BY_HAND,
) -> Site:
    """A new site of the customer. `placed` says who gave the coordinates, if they are given;
    otherwise coordinates and time zone come from the ZIP code as far as it is known."""
    site = Site(id=id or uuid.uuid4(), customer=customer, created_at=now)
    return save_clean(site, checked(site, values, placed))


@recorded
def change_site(
    *,
    site: Site,
    values: Mapping[str, Any],
    by: Person,
    rev: int | None,
    placed: Placed = Placed.BY_HAND,
) -> Site:
    """Change what is named in `values`, based on revision `rev`. Raises Stale and Invalid."""
    site = Site.objects.select_for_update().get(pk=site.pk)
    site.require_rev(rev)
    save_clean(site, checked(site, values, placed))
    site.refresh_from_db()
    return site


@recorded
def remove_site(*, site: Site, by: Person, rev: int | None) -> None:
    """Remove a site nothing hangs on; the history keeps what was there."""
    site = Site.objects.select_for_update().get(pk=site.pk)
    site.require_rev(rev)
    try:
        with transaction.atomic():
            site.delete()
    except ProtectedError as error:
        raise Refused(
            "site_in_use", _("Jobs or panels are recorded at this site, so it stays.")
        ) from error


def checked(
    site: Site,
    values: Mapping[str, Any],
    placed: Placed = Placed.BY_HAND,
    *,
    home_zone: str | None = None,
) -> dict[str, Any]:
    """The values with the address in its normal form and the gaps filled. Raises Invalid.

    `home_zone` is the firm's time zone, for who checks many sites and asks once.
    """
    address = {
        name: (values.get(name, getattr(site, name)) or "").strip()
        for name in ("street", "city", "state", "zip")
    }
    try:
        normal = check_postal(
            street=address["street"],
            city=address["city"],
            state=address["state"],
            zip_code=address["zip"],
        )
    except ValidationError as error:
        raise invalid(error) from error
    checked = {**values, **normal}
    return checked | _place(site, checked, placed) | _time_zone(site, checked, home_zone)


def _place(site: Site, values: Mapping[str, Any], placed: Placed) -> dict[str, Any]:
    """Coordinates and where they are from: typed ones win, the ZIP code fills the gap."""
    was = (site.latitude, site.longitude)
    typed = (values.get("latitude", was[0]), values.get("longitude", was[1]))
    if (typed[0] is None) != (typed[1] is None):
        raise Invalid(
            "half_a_place",
            _("Give both latitude and longitude, or leave both empty."),
            fields={"longitude" if typed[1] is None else "latitude": _("Missing.")},
        )
    if typed[0] is not None and typed != was:
        return {"latitude": typed[0], "longitude": typed[1], "placed": placed}
    moved = values["zip"] != site.zip and site.placed in (Placed.BY_ZIP, Placed.UNKNOWN)
    if typed[0] is not None and not moved:
        return {}
    found = places.look_up(values["zip"])
    if found is None:
        return {"latitude": None, "longitude": None, "placed": Placed.UNKNOWN}
    return {"latitude": found.latitude, "longitude": found.longitude, "placed": Placed.BY_ZIP}


def _time_zone(site: Site, values: Mapping[str, Any], home_zone: str | None) -> dict[str, Any]:
    """The zone as chosen, else that of the ZIP code, else the firm's own."""
    chosen = values.get("time_zone", site.time_zone)
    if chosen:
        return {"time_zone": chosen}
    found = places.look_up(values["zip"])
    if found:
        return {"time_zone": found.time_zone}
    return {"time_zone": home_zone or (queries.firm() or Firm()).time_zone}
