"""How likely are two customers the same people, and why?

Points are common practice, no source: a shared phone or e-mail address alone is worth a look; a
shared name alone is not, for fathers and sons share one.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

LIKELY = 50
NAMES_ALIKE = 0.84  # of 1: two letters in a dozen may differ
TITLES = {"mr", "mrs", "ms", "dr", "and", "the", "llc", "inc", "co"}


@dataclass(frozen=True)
class Who:
    """What a customer is known by; places are (street, ZIP code) of the customer and the sites."""

    name: str
    phone: str = ""
    email: str = ""
    places: frozenset[tuple[str, str]] = field(default_factory=frozenset)


@dataclass(frozen=True)
class Likeness:
    points: int
    reasons: tuple[str | Promise, ...]

    @property
    def is_likely(self) -> bool:
        return self.points >= LIKELY


def likeness(one: Who, other: Who) -> Likeness:
    """The points two customers share, and the words for them."""
    found: list[tuple[int, str | Promise]] = []
    if one.phone and one.phone == other.phone:
        found.append((50, _("same phone")))
    if one.email and one.email.lower() == other.email.lower():
        found.append((50, _("same e-mail")))
    if plain_places(one.places) & plain_places(other.places):
        found.append((30, _("same address")))
    found += _by_name(one.name, other.name)
    return Likeness(sum(points for points, _reason in found), tuple(reason for _p, reason in found))


def plain_name(name: str) -> str:
    """A name without case, marks, titles and order: “Quill, Dr. Avery” is “Avery Quill”."""
    words = re.findall(r"[^\W_]+", name.casefold())
    return " ".join(sorted(word for word in words if word not in TITLES))


def plain_street(street: str) -> str:
    return " ".join(re.findall(r"[^\W_]+", street.casefold()))


def plain_places(places: Iterable[tuple[str, str]]) -> set[tuple[str, str]]:
    return {(plain_street(street), zip_code[:5]) for street, zip_code in places if street}


def _by_name(one: str, other: str) -> list[tuple[int, str | Promise]]:
    one, other = plain_name(one), plain_name(other)
    if not one or not other:
        return []
    if one == other:
        return [(30, _("same name"))]
    if difflib.SequenceMatcher(None, one, other).ratio() >= NAMES_ALIKE:
        return [(20, _("names alike"))]
    return []
