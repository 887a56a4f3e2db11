"""Keep a list that was read, and take it in: all of it, or nothing."""

from __future__ import annotations

import datetime as dt
from typing import BinaryIO

from django.conf import settings
from django.db import IntegrityError
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from contractor import queries
from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.lists import Row, fit, read
from contractor.lists.customers import COLUMNS
from contractor.models import Customer, Firm, Person, Site, UploadedList
from contractor.services import customers, sites
from contractor.services.imports.plan import Group, Part, Plan, Verb, plan


@recorded
def upload(*, file: BinaryIO, name: str, by: Person, now: dt.datetime) -> UploadedList:
    """Read the file and keep its rows as typed. Raises Invalid when it is no list of customers."""
    rows = read(file, max_bytes=settings.LIST_MAX_BYTES)
    fit(rows, COLUMNS)
    return UploadedList.objects.create(
        kind=UploadedList.Kind.CUSTOMERS,
        file_name=name[:200],
        rows=[[row.line, row.values] for row in rows],
        uploaded_by=by,
        uploaded_at=now,
    )


def rows_of(uploaded: UploadedList) -> list[Row]:
    return [Row(line, values) for line, values in uploaded.rows]


@recorded
def take_in(*, uploaded: UploadedList, by: Person, now: dt.datetime) -> UploadedList:
    """Add and change what the list says, worked out anew: what was shown may be old by now."""
    uploaded = UploadedList.objects.select_for_update().get(pk=uploaded.pk)
    if uploaded.taken_at is not None:
        raise Refused("list_taken", _("This list was taken in already."))
    found = plan(rows_of(uploaded))
    if found.problems:
        raise Invalid("list_has_bad_rows", _bad_rows(found))
    _add(found.groups, now)
    for group in found.groups:
        _change(group, by)
    uploaded.taken_at, uploaded.outcome = now, _outcome(found)
    uploaded.save()
    return uploaded


def _bad_rows(found: Plan) -> str:
    rows = len({problem.line for problem in found.problems})
    told = ngettext(
        "%s row cannot be used, so nothing was taken in. Mend the file and choose it again.",
        "%s rows cannot be used, so nothing was taken in. Mend the file and choose it again.",
        rows,
    )
    return told % rows


def _add(groups: list[Group], now: dt.datetime) -> None:
    """What is new, in bulk: every rule of its model was checked when the list was understood."""
    for group in groups:
        if group.record is None:
            group.added = Customer(**customers.checked(group.values), created_at=now)
    added = [group.added for group in groups if group.added]
    try:
        Customer.objects.bulk_create(added, batch_size=500)
    except IntegrityError as error:
        told = _("Someone else was bringing in the same customers. Look at the list again.")
        raise Refused("list_overtaken", told) from error
    home_zone = (queries.firm() or Firm()).time_zone
    new_sites = [
        _new_site(group.record or group.added, part, now, home_zone)
        for group in groups
        for part in group.sites.values()
        if part.record is None
    ]
    Site.objects.bulk_create(new_sites, batch_size=500)


def _new_site(customer: Customer | None, part: Part, now: dt.datetime, home_zone: str) -> Site:
    values = sites.checked(Site(), part.values, Site.Placed.BY_LIST, home_zone=home_zone)
    return Site(**values, customer=customer, created_at=now)


def _change(group: Group, by: Person) -> None:
    if group.verb is Verb.CHANGE:
        customers.change_customer(customer=group.record, values=group.values, by=by, rev=None)
    for part in group.sites.values():
        if part.verb is Verb.CHANGE:
            placed = Site.Placed.BY_LIST
            sites.change_site(site=part.record, values=part.values, by=by, rev=None, placed=placed)


def _outcome(found: Plan) -> dict[str, int]:
    return {
        "customers_added": sum(group.verb is Verb.ADD for group in found.groups),
        "customers_changed": sum(group.verb is Verb.CHANGE for group in found.groups),
        "sites_added": _sites(found, Verb.ADD),
        "sites_changed": _sites(found, Verb.CHANGE),
        "rows": len(found.steps),
        "rows_unchanged": found.count(Verb.SAME),
    }


def _sites(found: Plan, verb: Verb) -> int:
    return sum(part.verb is verb for group in found.groups for part in group.sites.values())
