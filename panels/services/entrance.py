"""Where the power comes in: the service entrance of a site, recorded once and corrected."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import TypedDict, Unpack

from django.utils.translation import gettext as _

from contractor.errors import Invalid
from contractor.history import recorded
from contractor.models import Person, Site
from panels.models import ServiceEntrance
from panels.rules.errors import BadDescription
from panels.rules.wire.sizes import SIZES, size_of
from panels.services.guards import checked, lock_site, put_in


class EntranceFacts(TypedDict, total=False):
    """What the utility says, the service conductors and their disconnect."""

    occupancy: str
    available_ka: float | None
    available_xr: float | None
    stated_by: str
    stated_on: dt.date | None
    transformer_kva: float | None
    transformer_z_percent: float | None
    transformer_xr: float | None
    wire_size: str
    wire_material: str
    raceway: str
    wire_sets: int
    length_ft: float | None
    grounding_size: str
    grounding_material: str
    disconnect_outdoors: bool | None
    disconnect_marked: bool | None
    disconnect_ka: float | None


@recorded
def record_entrance(
    *, site: Site, by: Person, id: uuid.UUID | None = None, rev: int | None = None,
    **facts: Unpack[EntranceFacts],
) -> ServiceEntrance:  # fmt: skip
    """The entrance, made or corrected. Raises Invalid field by field, and Stale."""
    site = lock_site(site.pk)
    entrance = ServiceEntrance.objects.select_for_update().filter(site=site).first()
    if entrance is None:
        entrance = ServiceEntrance(id=id or uuid.uuid4(), site=site)
    else:
        entrance.require_rev(rev)
    put_in(entrance, dict(facts), allowed=EntranceFacts.__annotations__)
    checked(entrance, exclude=["site"])
    _check(entrance)
    entrance.save()
    entrance.refresh_from_db()
    return entrance


def _check(entrance: ServiceEntrance) -> None:
    """A figure says who gave it; a transformer gives both its numbers; a size is one there is."""
    if entrance.available_ka and not entrance.stated_by:
        raise _at("stated_by", _("Say who at the utility stated the figure, and how."))
    if bool(entrance.transformer_kva) != bool(entrance.transformer_z_percent):
        missing = "transformer_z_percent" if entrance.transformer_kva else "transformer_kva"
        raise _at(missing, _("A transformer needs both: its kVA and its impedance in percent."))
    for name in ("wire_size", "grounding_size"):
        if size := getattr(entrance, name):
            _check_size(name, size)


def _check_size(name: str, size: str) -> None:
    try:
        size_of(size)
    except BadDescription:
        known = ", ".join(one.name for one in SIZES)
        raise _at(
            name, _("There is no such size. Write one of %(sizes)s.") % {"sizes": known}
        ) from None


def _at(field: str, sentence: str) -> Invalid:
    return Invalid("entrance", sentence, fields={field: sentence})
