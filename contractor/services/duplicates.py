"""Make two entries of one customer one, or say that they are two people."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterator
from typing import Any

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models
from django.forms.models import model_to_dict
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.history import recorded
from contractor.models import Customer, Merge, NotTheSame, Person
from contractor.services.saving import save_clean

# What a person may choose from either entry.
CHOSEN = ("name", "phone", "email", "street", "city", "state", "zip", "notes", "list_key")


@recorded
def merge_customers(
    *,
    keep: Customer,
    drop: Customer,
    take: Collection[str],
    by: Person,
    now: dt.datetime,
    revs: tuple[int, int] | None = None,
) -> Customer:
    """Everything of `drop` moves to `keep`, with the fields named in `take`; `drop` is gone.

    `revs` are the revisions of both that the person looked at. The dropped entry stays in the
    history and in `Merge`, and its address leads to the kept one.
    """
    keep, drop = _locked(keep, drop)
    for customer, rev in zip((keep, drop), revs or (None, None), strict=True):
        customer.require_rev(rev)
    values = {field: getattr(drop, field) for field in CHOSEN if field in take}
    as_it_was = model_to_dict(drop)
    for relation in _pointing_at(Customer):
        _move(relation, drop, keep)
    Merge.objects.create(kept=keep, dropped_id=drop.pk, dropped=_plain(as_it_was), by=by, at=now)
    drop.delete()
    save_clean(keep, values)
    keep.refresh_from_db()
    return keep


@recorded
def tell_apart(*, one: Customer, other: Customer, by: Person) -> None:
    """These two are not the same people; they are not shown as a pair again."""
    if one == other:
        raise Refused("one_customer", _("This is one and the same customer."))
    first, second = sorted((one, other), key=lambda customer: customer.pk)
    NotTheSame.objects.get_or_create(one=first, other=second)


def _locked(keep: Customer, drop: Customer) -> tuple[Customer, Customer]:
    """Both rows, locked in one order whoever is kept."""
    if keep.pk == drop.pk:
        raise Refused("one_customer", _("This is one and the same customer."))
    rows = Customer.objects.select_for_update().filter(pk__in=[keep.pk, drop.pk]).order_by("pk")
    found = {customer.pk: customer for customer in rows}
    if len(found) < 2:
        raise Refused("merged_already", _("One of the two is gone: someone merged them already."))
    return found[keep.pk], found[drop.pk]


def _pointing_at(model: type[models.Model]) -> Iterator[Any]:
    """Every relation from another row to this model, in whatever room the row lives."""
    for relation in model._meta.get_fields(include_hidden=True):
        if relation.auto_created and not relation.concrete and not _is_history(relation):
            yield relation


def _is_history(relation: Any) -> bool:
    """Event tables keep what was true then: they still point at the entry that is gone."""
    return hasattr(relation.related_model, "pgh_tracked_model")


def _move(relation: Any, drop: Customer, keep: Customer) -> None:
    rows = relation.related_model._base_manager.filter(**{relation.field.name: drop})
    if relation.related_model is NotTheSame:
        rows.delete()
    else:
        rows.update(**{relation.field.name: keep})


def _plain(values: dict[str, Any]) -> dict[str, Any]:
    encoder = DjangoJSONEncoder()
    return {
        name: value if value is None or isinstance(value, str | int) else encoder.default(value)
        for name, value in values.items()
    }
