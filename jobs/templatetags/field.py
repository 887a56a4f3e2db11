"""How are a record's plain values written on the page: moments, units, a signature's ink?"""

from __future__ import annotations

import datetime as dt
from typing import Any

from django import template
from django.utils.dateparse import parse_datetime

from jobs.planning.strokes import Drawing, read_drawing
from jobs.queries.close_out import UNITS

register = template.Library()


@register.filter
def moment(text: str) -> dt.datetime | None:
    """An ISO moment as a date the page can write in its own zone."""
    return parse_datetime(text) if text else None


@register.filter
def unit(kind: str) -> str:
    return UNITS.get(kind, "")


@register.filter
def drawing(strokes: Any) -> Drawing:
    """The ink of a signature that was checked when it was taken."""
    return read_drawing(strokes)
