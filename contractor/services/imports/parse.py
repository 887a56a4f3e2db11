"""What does one row of the list mean, and what in it cannot be used?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from django.core.exceptions import ValidationError
from django.db.models import Model
from django.utils.translation import gettext as _

from contractor import places, queries
from contractor.duplicates import plain_name, plain_street
from contractor.errors import Invalid
from contractor.lists import Row
from contractor.lists.customers import COLUMNS, CUSTOMER, SITE
from contractor.models import Authority, Customer, Firm, Site, Utility
from contractor.services import customers, sites
from contractor.services.saving import invalid

_HEADERS = {column.field: column.header for column in COLUMNS}
CUSTOMER_HEADERS = {ours: _HEADERS[theirs] for theirs, ours in CUSTOMER.items()}
SITE_HEADERS = {ours: _HEADERS[theirs] for theirs, ours in SITE.items()}
Identity = tuple[str, ...]


@dataclass(frozen=True)
class Problem:
    """Why a row cannot be taken in: its line, the column at fault, a sentence."""

    line: int
    header: str
    sentence: str


@dataclass
class Entry:
    """A row understood: only cells that hold something; no site where no street is given."""

    line: int
    customer: dict[str, Any] = field(default_factory=dict)
    site: dict[str, Any] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)

    @property
    def identities(self) -> list[Identity]:
        """What tells this customer from others, the surest first."""
        return identities(self.customer, [self.place] if self.site else [])

    @property
    def place(self) -> tuple[str, str]:
        return place(self.site["street"], self.site["zip"])


@dataclass(frozen=True)
class Names:
    """What rows may name: authorities and utilities without case; and the firm's time zone."""

    authorities: Mapping[str, Authority]
    utilities: Mapping[str, Utility]
    home_zone: str

    @classmethod
    def load(cls) -> Names:
        return cls(
            {row.name.casefold(): row for row in Authority.objects.all()},
            {row.name.casefold(): row for row in Utility.objects.all()},
            (queries.firm() or Firm()).time_zone,
        )


def identities(
    customer: Mapping[str, Any], where: Iterable[tuple[str, str]] = ()
) -> list[Identity]:
    name = plain_name(customer.get("name", ""))
    found: list[Identity] = []
    if customer.get("list_key"):
        found.append(("key", customer["list_key"]))
    if customer.get("phone"):
        found.append(("phone", name, customer["phone"]))
    if customer.get("email"):
        found.append(("email", name, customer["email"].lower()))
    if not found:
        found = [("place", name, *spot) for spot in where] or [("name", name)]
    return found


def every_identity(customer: Customer, where: Iterable[tuple[str, str]]) -> list[Identity]:
    """All that a customer who is there already may be meant by."""
    name = plain_name(customer.name)
    known = ("name", "phone", "email", "list_key")
    surest = identities({field: getattr(customer, field) for field in known})
    return [*surest, *(("place", name, *spot) for spot in where), ("name", name)]


def place(street: str, zip_code: str) -> tuple[str, str]:
    return plain_street(street), zip_code[:5]


def understand(row: Row, names: Names) -> Entry:
    """The row's values in their normal form, with every fault in it named."""
    entry = Entry(row.line)
    typed = {name: text for name, text in row.values.items() if text}
    _customer(entry, typed)
    _site(entry, typed, names)
    return entry


def _customer(entry: Entry, typed: Mapping[str, str]) -> None:
    values = {ours: typed[theirs] for theirs, ours in CUSTOMER.items() if theirs in typed}
    _pad_zip(values)
    try:
        values = customers.checked(values)
        record = Customer(**values)
        record.clean_fields(exclude=_silent(Customer) - {"name", *values})
    except (Invalid, ValidationError) as error:
        _blame(entry, error, CUSTOMER_HEADERS)
    else:
        entry.customer = {name: getattr(record, name) for name in values}


def _site(entry: Entry, typed: Mapping[str, str], names: Names) -> None:
    values: dict[str, Any] = {
        ours: typed[theirs] for theirs, ours in SITE.items() if theirs in typed
    }
    if not values:
        return
    _pad_zip(values)
    faults = _named(values, "authority", names.authorities)
    faults |= _named(values, "utility", names.utilities)
    faults |= _degrees(values)
    entry.problems += [
        Problem(entry.line, SITE_HEADERS[name], says) for name, says in faults.items()
    ]
    try:
        record = Site(**sites.checked(Site(), values, home_zone=names.home_zone))
        record.clean_fields(exclude=_silent(Site) - set(values))
    except (Invalid, ValidationError) as error:
        _blame(entry, error, SITE_HEADERS)
    else:
        entry.site = {name: getattr(record, name) for name in values}
        entry.doubts = places.doubts(city=record.city, state=record.state, zip_code=record.zip)


def _named(values: dict[str, Any], name: str, known: Mapping[str, Any]) -> dict[str, str]:
    """Put the row in place of its name; what has no row is taken out and blamed."""
    if name not in values:
        return {}
    typed = values.pop(name)
    if typed.casefold() not in known:
        told = _("“%s” is not among those you keep. Add it there first, or mend the name.")
        return {name: told % typed}
    values[name] = known[typed.casefold()]
    return {}


def _degrees(values: dict[str, Any]) -> dict[str, str]:
    faults: dict[str, str] = {}
    for name in ("latitude", "longitude"):
        if name in values:
            degrees = _number(values[name])
            if degrees is None:
                told = _("“%s” is not a number of degrees, such as 40.0517.")
                faults[name] = told % values.pop(name)
            else:
                values[name] = degrees
    return faults


def _number(text: str) -> float | None:
    try:
        number = float(text)
    except ValueError:
        return None
    return number if math.isfinite(number) else None


@cache
def _silent(model: type[Model]) -> frozenset[str]:
    """Every column's name: what a row says nothing about needs no check."""
    return frozenset(column.name for column in model._meta.fields)


def _pad_zip(values: dict[str, Any]) -> None:
    """Spreadsheet programs drop the noughts in front: 1432 was 01432."""
    if values.get("zip", "").isdecimal():
        values["zip"] = values["zip"].zfill(5)


def _blame(entry: Entry, error: Invalid | ValidationError, header_of: Mapping[str, str]) -> None:
    refusal = invalid(error) if isinstance(error, ValidationError) else error
    told = refusal.fields or {"": refusal.sentence}
    entry.problems += [
        Problem(entry.line, header_of.get(name, ""), sentence) for name, sentence in told.items()
    ]
