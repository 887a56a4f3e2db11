"""Who may write next, and can this row be kept? Locks and checks that every service shares."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, TypeVar

from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.models import FieldRecord, Site
from panels.models import Panel

R = TypeVar("R", bound=FieldRecord)


def lock_site(site_id: Any) -> Site:
    """The site, locked until the transaction ends: everything about its panels waits here."""
    return Site.objects.select_for_update(no_key=True).get(pk=site_id)


def lock_panel(panel: Panel) -> Panel:
    """The panel as it is now, locked: first its site, then itself. Refuses a retired one."""
    lock_site(panel.site_id)
    locked = Panel.objects.select_for_update(no_key=True).get(pk=panel.pk)
    if locked.retired_at:
        raise Refused(
            "panel_retired",
            _("%(panel)s is retired; its record can be read but not changed.")
            % {"panel": locked.name},
        )
    return locked


def lock(record: R) -> R:
    """The record as it is now, locked."""
    rows: models.QuerySet[R] = type(record)._default_manager.all()
    found = rows.select_for_update(no_key=True).filter(pk=record.pk).first()
    if found is None:
        raise Refused("gone", _("Someone has removed this meanwhile; there is nothing to change."))
    return found


def put_in(record: models.Model, values: Mapping[str, Any], *, allowed: Iterable[str]) -> None:
    """Set the named columns, text tidied; anything not `allowed` is a fault of the caller."""
    unknown = set(values) - set(allowed)
    if unknown:
        raise TypeError(f"{type(record).__name__} cannot be given {', '.join(sorted(unknown))}")
    for name, value in values.items():
        setattr(record, name, " ".join(value.split()) if _is_line(record, name, value) else value)


def checked(record: models.Model, *, exclude: Iterable[str] = ()) -> None:
    """Refuse, field by field and in words, what the columns cannot hold."""
    try:
        record.clean_fields(exclude=set(exclude))
    except ValidationError as error:
        told = {name: " ".join(said) for name, said in error.message_dict.items()}
        sentences = [f"{_label(record, name)}: {said}" for name, said in told.items()]
        raise Invalid("invalid", " ".join(sentences), fields=told) from error


def _label(record: models.Model, name: str) -> str:
    label = str(getattr(record._meta.get_field(name), "verbose_name", name))
    return label[:1].upper() + label[1:]


def _is_line(record: models.Model, name: str, value: Any) -> bool:
    field = record._meta.get_field(name)
    return isinstance(value, str) and not isinstance(field, models.TextField)
