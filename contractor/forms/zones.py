"""Choosing a time zone: those of the United States first."""

from __future__ import annotations

import zoneinfo
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

# The zones of the United States and its territories that differ today (IANA zone1970.tab).
HERE = [
    ("America/New_York", _("Eastern")),
    ("America/Chicago", _("Central")),
    ("America/Denver", _("Mountain")),
    ("America/Phoenix", _("Mountain, no daylight saving (Arizona)")),
    ("America/Los_Angeles", _("Pacific")),
    ("America/Anchorage", _("Alaska")),
    ("America/Adak", _("Aleutian Islands")),
    ("Pacific/Honolulu", _("Hawaii")),
    ("America/Puerto_Rico", _("Puerto Rico and Virgin Islands")),
    ("Pacific/Guam", _("Guam and Northern Marianas")),
    ("Pacific/Pago_Pago", _("American Samoa")),
]


def zones() -> list[Any]:
    """The zones here by their name, then every other one by its place."""
    known = {name for name, _label in HERE}
    others = sorted(name for name in zoneinfo.available_timezones() - known if "/" in name)
    return [
        (_("United States"), HERE),
        (_("Elsewhere"), [(name, name.replace("_", " ")) for name in others]),
    ]


class ZoneField(forms.ChoiceField):
    """A time zone; with `blank` given, that label stands for none."""

    def __init__(self, *, blank: Any = None, **kwargs: Any) -> None:
        def choices() -> list[Any]:
            return [*([("", blank)] if blank else []), *zones()]

        super().__init__(choices=choices, required=blank is None, **kwargs)
