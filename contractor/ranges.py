"""PostgreSQL's range of days, for constraints over two plain columns."""

from __future__ import annotations

from django.contrib.postgres.fields import DateRangeField
from django.db.models import Func


class DateRange(Func):
    function = "daterange"
    output_field = DateRangeField()
