"""Which edition counts at a site on a day, and who says so?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Authority, Person, Site
from panels.editions import EDITIONS
from panels.editions import edition as edition_named
from panels.models import Adoption
from panels.rules import adoption as rules
from panels.rules.edition import Edition
from panels.rules.errors import BadDescription, UnknownEdition
from panels.services.guards import checked


@dataclass(frozen=True, kw_only=True)
class Basis:
    """The edition, the jurisdiction it counts in, and where that is known from."""

    edition: Edition
    jurisdiction: str
    stated: str


def basis_for(*, site: Site, on: dt.date, edition: str | None = None, stated_by: str = "") -> Basis:
    """The edition on record for the site's authority, city or state on that day.

    With `edition` that one instead; `stated_by` then has to say who stated it. Raises
    UnknownEdition rather than guess, Refused when nobody stated it.
    """
    if edition:
        return _stated(site, edition, " ".join(stated_by.split()))
    places = _places(site)
    found = _of_places(places)
    place = next((one for one in places if any(row.place == one for row in found)), places[0])
    try:
        in_force = rules.edition_for(found, place=place, on=on, editions=EDITIONS)
    except UnknownEdition as unknown:
        also = _("Or choose an edition for this calculation and say who stated it.")
        raise UnknownEdition(f"{unknown.sentence} {also}") from unknown
    row = max((one for one in found if one.place == place and one.since <= on), key=_since)
    return Basis(edition=in_force, jurisdiction=jurisdiction(site), stated=stated(place, row))


def stated(place: str, adoption: Adoption | rules.Adoption) -> str:
    """Where an edition is known from, as printed on a calculation."""
    return _("Adopted by %(place)s, in force since %(since)s (%(source)s)") % {
        "place": place,
        "since": adoption.since.isoformat(),
        "source": adoption.source,
    }


def jurisdiction(site: Site) -> str:
    """Who decides at this site, as printed on a calculation."""
    return site.authority.name if site.authority else f"{site.city}, {site.state}"


@recorded
def record_adoption(
    *, adoption: Adoption | None = None, authority: Authority | None, place: str,
    since: dt.date, edition: str, source: str, amendments: Sequence[Mapping[str, Any]] = (),
    by: Person,
) -> Adoption:  # fmt: skip
    """Put an adoption on record, or correct one. Refuses an amendment of nothing, and a second
    adoption of the same place and day."""
    adoption = adoption or Adoption()
    adoption.authority, adoption.place = authority, " ".join(place.split())
    adoption.since, adoption.edition, adoption.source = since, edition, " ".join(source.split())
    adoption.amendments = [dict(amendment) for amendment in amendments]
    if bool(adoption.authority) == bool(adoption.place):
        sentence = _("Choose an authority, or write a place: one of the two.")
        raise Invalid("authority_or_place", sentence, fields={"authority": sentence})
    checked(adoption)
    _check_amendments(adoption)
    same = Adoption.objects.filter(authority=authority, place=adoption.place, since=since)
    if same.exclude(pk=adoption.pk).exists():
        sentence = _("An adoption of %(where)s from that day is already on record.")
        sentence %= {"where": adoption.where}
        raise Refused("adopted_already", sentence, fields={"since": sentence})
    adoption.save()
    return adoption


@recorded
def remove_adoption(*, adoption: Adoption, by: Person) -> None:
    """Take an adoption off the record; calculations made by it keep what they were made by."""
    adoption.delete()


def _check_amendments(adoption: Adoption) -> None:
    try:
        rules.amended(edition_named(adoption.edition), _amendments(adoption))
    except UnknownEdition as fault:
        raise Invalid("edition", fault.sentence, fields={"edition": fault.sentence}) from fault
    except BadDescription as fault:
        sentence = fault.sentence.replace(fault.field, rules.said(fault.field), 1)
        raise Invalid("amendment", sentence, fields={"amendments": sentence}) from fault


def _amendments(adoption: Adoption) -> tuple[rules.Amendment, ...]:
    return tuple(rules.amendment_from(one) for one in adoption.amendments)


def _stated(site: Site, edition: str, stated_by: str) -> Basis:
    if not stated_by:
        sentence = _("Say who stated the edition, e.g. “Plans examiner, by phone on Nov 24”.")
        raise Refused("edition_unexplained", sentence, fields={"stated_by": sentence})
    told = _("Not from the record; stated by: %(who)s") % {"who": stated_by}
    found = edition_named(edition)
    return Basis(edition=found, jurisdiction=jurisdiction(site), stated=told)


def _places(site: Site) -> list[str]:
    """Where to look, nearest first."""
    own = [site.authority.name] if site.authority else []
    return [*own, f"{site.city}, {site.state}", site.state]


def _of_places(places: Sequence[str]) -> list[rules.Adoption]:
    here = Adoption.objects.filter(place__in=places) | Adoption.objects.filter(
        authority__name__in=places
    )
    return [
        rules.Adoption(
            place=row.where,
            since=row.since,
            edition=row.edition,
            source=row.source,
            amendments=_amendments(row),
        )
        for row in here.select_related("authority")
    ]


def _since(adoption: rules.Adoption) -> dt.date:
    return adoption.since
