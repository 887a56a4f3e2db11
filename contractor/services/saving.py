"""Write a row only when every rule of its model holds, and say in words when one does not."""

from __future__ import annotations

import uuid
from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Any, TypeVar

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import models
from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused

M = TypeVar("M", bound=models.Model)


def save_clean(record: M, values: Mapping[str, Any] | None = None) -> M:
    """Set the values, check the model's rules, save. Raises Invalid, keyed by field."""
    clean(record, values)
    record.save()
    return record


def clean(record: M, values: Mapping[str, Any] | None = None) -> M:
    for name, value in (values or {}).items():
        setattr(record, name, value)
    try:
        record.full_clean()
    except ValidationError as error:
        raise invalid(error) from error
    return record


def invalid(error: ValidationError) -> Invalid:
    """A model's complaints as one refusal; those about the whole row lead its sentence."""
    told = (
        {field: list(_said(faults)) for field, faults in error.error_dict.items()}
        if hasattr(error, "error_dict")
        else {NON_FIELD_ERRORS: error.messages}
    )
    fields = {field: " ".join(said) for field, said in told.items() if field != NON_FIELD_ERRORS}
    whole = " ".join(told.get(NON_FIELD_ERRORS, []))
    sentence = whole or _("Some of this cannot be used as it stands.")
    return Invalid("invalid", sentence, fields=fields)


def _said(faults: Iterable[ValidationError]) -> Iterator[str]:
    """Django’s sentences; of what is empty in words for whoever filled it in."""
    for fault in faults:
        if fault.code in ("blank", "null"):
            yield _("Fill this in: it cannot be left empty.")
        else:
            yield from fault.messages


def differing(record: models.Model, values: Mapping[str, Any]) -> list[str]:
    """The names of the fields whose value in the record is another one."""
    return [name for name, value in values.items() if getattr(record, name) != value]


def made_before(
    model: type[M], key: uuid.UUID | None, values: Mapping[str, Any], *, but: Collection[str] = ()
) -> M | None:
    """The record an earlier sending of the same request made, or None.

    A phone that heard no answer sends again: the same key with the same content is the same
    record; with other content it is refused. `but` names fields that the first saving filled in.
    """
    if key is None:
        return None
    found = model._default_manager.filter(pk=key).first()
    if found is None:
        return None
    as_saved = model(**{model._meta.pk.name: key, **values})
    try:
        as_saved.clean_fields(exclude=set(but))
    except ValidationError as error:
        raise invalid(error) from error
    asked = {name: getattr(as_saved, name) for name in values if name not in but}
    if differing(found, asked):
        raise Refused("id_taken", _("A record with this id exists and holds something else."))
    return found
