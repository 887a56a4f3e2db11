"""Add, change and remove customers."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import ProtectedError
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.history import recorded
from contractor.models import Customer, Person
from contractor.models.fields import check_postal
from contractor.services.saving import invalid, save_clean

ADDRESS = ("street", "city", "state", "zip")


@recorded
def add_customer(
    *, values: Mapping[str, Any], by: Person, now: dt.datetime, id: uuid.UUID | None = None
) -> Customer:
    """A new customer. Raises Invalid, keyed by field."""
    customer = Customer(id=id or uuid.uuid4(), created_at=now)
    return save_clean(customer, checked(values))


@recorded
def change_customer(
    *, customer: Customer, values: Mapping[str, Any], by: Person, rev: int | None
) -> Customer:
    """Change what is named in `values`, based on revision `rev`. Raises Stale and Invalid."""
    customer = Customer.objects.select_for_update().get(pk=customer.pk)
    customer.require_rev(rev)
    kept = {name: getattr(customer, name) for name in ADDRESS}
    save_clean(customer, {**values, **checked({**kept, **values})})
    customer.refresh_from_db()
    return customer


@recorded
def remove_customer(*, customer: Customer, by: Person, rev: int | None) -> None:
    """Remove a customer nothing hangs on; the history keeps what was there."""
    customer = Customer.objects.select_for_update().get(pk=customer.pk)
    customer.require_rev(rev)
    try:
        with transaction.atomic():
            customer.delete()
    except ProtectedError as error:
        raise Refused(
            "customer_in_use",
            _("This customer has sites or messages. Remove or merge those first."),
        ) from error


def checked(values: Mapping[str, Any]) -> dict[str, Any]:
    """The values, the billing address in its normal form where there is one; an empty list key
    becomes none, for two customers without one are not the same."""
    checked = dict(values)
    if "list_key" in checked:
        checked["list_key"] = checked["list_key"] or None
    address = {name: (values.get(name) or "").strip() for name in ADDRESS}
    if any(address.values()):
        try:
            checked |= check_postal(
                street=address["street"],
                city=address["city"],
                state=address["state"],
                zip_code=address["zip"],
            )
        except ValidationError as error:
            raise invalid(error) from error
    return checked
