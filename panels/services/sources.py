"""Storage, solar, generators and vehicle supply equipment of a site."""

from __future__ import annotations

import uuid
from typing import TypedDict, Unpack

from django.utils.translation import gettext as _

from contractor.errors import Invalid
from contractor.history import recorded
from contractor.models import Person, Site
from panels.models import Circuit, Source
from panels.services.guards import checked, lock, lock_site, put_in

FEEDS_BACK = frozenset({Source.Kind.STORAGE, Source.Kind.SOLAR, Source.Kind.GENERATOR})


class Ratings(TypedDict, total=False):
    """What a source says about itself, and where it is."""

    kind: str
    name: str
    circuit: Circuit | None
    location: str
    disconnect_at: str
    rated_a: float | None
    rated_kva: float | None
    surge_kva: float | None
    usable_kwh: float | None
    peak_kw: float | None
    hourly: list[float] | None
    position: str
    labelled: bool | None
    transfer: str
    altitude_ft: float | None
    fuel: str
    fuel_unit: str
    fuel_full_per_h: float | None
    fuel_half_per_h: float | None
    fuel_on_hand: float | None
    notes: str


RATINGS = frozenset(Ratings.__annotations__)


@recorded
def add_source(
    *, site: Site, by: Person, id: uuid.UUID | None = None, **ratings: Unpack[Ratings]
) -> Source:
    """Record a source. Its breaker is marked as a source's, unless it only draws (vehicles)."""
    site = lock_site(site.pk)
    source = Source(id=id or uuid.uuid4(), site=site)
    put_in(source, dict(ratings), allowed=RATINGS)
    _check(source)
    source.save(force_insert=True)
    return source


@recorded
def change_source(
    *, source: Source, by: Person, rev: int | None = None, **ratings: Unpack[Ratings]
) -> Source:
    lock_site(source.site_id)
    source = lock(source)
    source.require_rev(rev)
    put_in(source, dict(ratings), allowed=RATINGS)
    _check(source)
    source.save()
    source.refresh_from_db()
    return source


@recorded
def remove_source(*, source: Source, by: Person, rev: int | None = None) -> None:
    lock_site(source.site_id)
    source = lock(source)
    source.require_rev(rev)
    source.delete()


def _check(source: Source) -> None:
    checked(source, exclude=["site", "circuit"])
    if source.surge_kva and source.rated_kva and source.surge_kva < source.rated_kva:
        sentence = _("Surge output cannot be less than the rated output.")
        raise Invalid("surge_below_rated", sentence, fields={"surge_kva": sentence})
    if source.circuit is not None:
        _connect(source, lock(source.circuit))


def _connect(source: Source, circuit: Circuit) -> None:
    panel = circuit.panel
    if panel.site_id != source.site_id or panel.retired_at:
        sentence = _("Choose a breaker of a panel in use at this site.")
        raise Invalid("other_site", sentence, fields={"circuit": sentence})
    if circuit.kind == Circuit.Kind.FEEDER and source.kind not in FEEDS_BACK:
        return
    if source.kind in FEEDS_BACK and circuit.kind in (Circuit.Kind.BRANCH, Circuit.Kind.SPARE):
        circuit.kind = Circuit.Kind.SOURCE
        circuit.name = circuit.name or source.name
        circuit.save()
    elif circuit.kind == Circuit.Kind.SPARE:
        circuit.kind = Circuit.Kind.BRANCH
        circuit.name = circuit.name or source.name
        circuit.save()
