"""How are a record's plain values written on the page: moments, units, a signature's ink?"""

from __future__ import annotations

import datetime as dt
from typing import Any

from django import template
from django.utils.dateparse import parse_datetime
from django.utils.translation import gettext as _

from jobs.planning.strokes import Drawing, read_drawing
from panels.queries.readings import UNITS

register = template.Library()


@register.filter
def moment(text: str) -> dt.datetime | None:
    """An ISO moment as a date the page can write in its own zone."""
    return parse_datetime(text) if text else None


@register.filter
def lasting(minutes: int) -> str:
    """A duration as a crew says it: 45 min, 6 h, 1 h 30 min."""
    hours, rest = divmod(minutes, 60)
    if not hours:
        return _("%(rest)s min") % {"rest": rest}
    if not rest:
        return _("%(hours)s h") % {"hours": hours}
    return _("%(hours)s h %(rest)s min") % {"hours": hours, "rest": rest}


@register.filter
def unit(kind: str) -> str:
    return UNITS.get(kind, "")


@register.filter
def drawing(strokes: Any) -> Drawing:
    """The ink of a signature that was checked when it was taken."""
    return read_drawing(strokes)
