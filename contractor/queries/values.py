"""How does a stored value read to a person: choices by their label, rows by their name?"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.apps import apps
from django.db import models
from django.utils import formats, timezone
from django.utils.dateparse import parse_date, parse_datetime, parse_time
from django.utils.translation import gettext as _

from contractor.models import Person
from contractor.models.fields import PhoneField
from contractor.telephone import phone


@dataclass(frozen=True)
class Names:
    """Rows that are pointed at, by model and key, fetched once for a whole page."""

    by_model: dict[type[models.Model], dict[str, str]]

    def get(self, model: type[models.Model], key: Any) -> str:
        return self.by_model.get(model, {}).get(str(key), "")

    @classmethod
    def of(cls, events: Iterable[Any]) -> Names:
        """The names of every row that the events' changes, and their authors, point at."""
        asked: dict[type[models.Model], set[str]] = defaultdict(set)
        for event in events:
            if user := (event.pgh_context or {}).get("user"):
                asked[Person].add(str(user))
            model = apps.get_model(event.pgh_obj_model)
            for column, pair in (event.pgh_diff or {}).items():
                target = _points_at(model, column)
                if target:
                    asked[target] |= {str(key) for key in pair if key is not None}
        return cls({model: _named(model, keys) for model, keys in asked.items()})


def shown(column: models.Field[Any, Any], value: Any, names: Names | None = None) -> str:
    """A value, plain or as JSON has it, in words; an empty one is “nothing”."""
    if value in (None, ""):
        return _("nothing")
    if isinstance(column, models.ForeignKey):
        named = names.get(column.remote_field.model, value) if names else str(value)
        return named or _("one that is gone")
    if column.choices:
        return str(dict(column.flatchoices).get(value, value))
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(column, PhoneField):
        return phone(value)
    if isinstance(value, list):
        return ", ".join(map(str, value))
    return _moment(column, value)


def _moment(column: models.Field[Any, Any], value: Any) -> str:
    if isinstance(column, models.DateTimeField):
        at = parse_datetime(value) if isinstance(value, str) else value
        return formats.date_format(timezone.localtime(at), "DATETIME_FORMAT") if at else ""
    if isinstance(column, models.DateField):
        day = parse_date(value) if isinstance(value, str) else value
        return formats.date_format(day, "DATE_FORMAT") if day else ""
    if isinstance(column, models.TimeField):
        clock = parse_time(value) if isinstance(value, str) else value
        return formats.time_format(clock) if isinstance(clock, dt.time) else ""
    return str(value)


def _points_at(model: type[models.Model], column: str) -> type[models.Model] | None:
    for known in model._meta.concrete_fields:
        if known.column == column and isinstance(known, models.ForeignKey):
            target: type[models.Model] = known.remote_field.model
            return target
    return None


def _named(model: type[models.Model], keys: set[str]) -> dict[str, str]:
    rows = model._default_manager.filter(pk__in=keys)
    return {str(row.pk): str(row) for row in rows}
