"""A column for where a breaker sits on the bus: half-open ranges the database can compare."""

from __future__ import annotations

from typing import Any

from django.db import models
from psycopg.types.multirange import Int4Multirange
from psycopg.types.range import Int4Range

Slots = tuple[tuple[int, int], ...]


class SlotsField(models.Field):
    """Half spaces as `int4multirange`: an exclusion constraint over it refuses two breakers in
    one place, the outer pair of a quad included, whose halves do not meet."""

    def db_type(self, connection: Any) -> str:
        return "int4multirange"

    def from_db_value(self, value: Any, expression: Any, connection: Any) -> Slots | None:
        return None if value is None else tuple((part.lower, part.upper) for part in value)

    def get_prep_value(self, value: Any) -> Int4Multirange | None:
        if value is None or isinstance(value, Int4Multirange):
            return value
        return Int4Multirange([Int4Range(start, end) for start, end in value])

    def to_python(self, value: Any) -> Slots | None:
        return None if value is None else tuple((int(start), int(end)) for start, end in value)

    def value_to_string(self, obj: models.Model) -> Any:
        return self.value_from_object(obj)
