"""PostgreSQL range constructors, for constraints over two plain columns."""

from __future__ import annotations

from django.contrib.postgres.fields import DateRangeField, DateTimeRangeField
from django.db.models import Func


class DateRange(Func):
    function = "daterange"
    output_field = DateRangeField()


class TimeRange(Func):
    function = "tstzrange"
    output_field = DateTimeRangeField()
