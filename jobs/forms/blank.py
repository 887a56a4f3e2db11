"""How does a blank that was filled in become a service's call, and its no an error at the field?"""

from __future__ import annotations

import datetime as dt
import zoneinfo
from collections.abc import Callable
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.errors import Refused, Several
from contractor.forms.attempt import show_refusal
from contractor.forms_rendering import ClockInput, DayInput


class Blank(forms.Form):
    """A form whose answers go to one service."""

    result: Any = None

    def said(self) -> dict[str, Any]:
        """The answers as the service's keywords."""
        return dict(self.cleaned_data)

    def try_to(self, act: Callable[..., Any]) -> bool:
        """Call the service with the answers; a refusal becomes this form's errors."""
        try:
            self.result = act(**self.said())
        except Refused as refused:
            self.say_no(refused)
            return False
        return True

    def say_no(self, refused: Refused) -> None:
        reasons = refused.reasons if isinstance(refused, Several) else [refused]
        for reason in reasons:
            show_refusal(self, reason)


class WithRevision(Blank):
    """Carries the revision the page showed, so nobody's change is overwritten unseen."""

    rev = forms.IntegerField(widget=forms.HiddenInput, required=False)


class DayForm(Blank):
    """One day, handed on under the name the service gives it."""

    name_of_day = "on"
    on = forms.DateField(label=_("Day"), widget=DayInput)

    def said(self) -> dict[str, Any]:
        said = super().said()
        said[self.name_of_day] = said.pop("on")
        return said


class SpanForm(Blank):
    """A day with a time from and until, at the site; everything empty means none."""

    names = ("window_from", "window_until")
    day = forms.DateField(label=_("Day"), widget=DayInput, required=False)
    opens = forms.TimeField(label=_("From"), widget=ClockInput, required=False)
    closes = forms.TimeField(label=_("Until"), widget=ClockInput, required=False)

    def __init__(self, *args: Any, zone: zoneinfo.ZoneInfo, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.zone = zone

    def clean(self) -> dict[str, Any]:
        said: dict[str, Any] = super().clean() or {}
        if (said.get("opens") or said.get("closes")) and not said.get("day"):
            self.add_error("day", _("Say on which day."))
        if said.get("day") and not said.get("opens"):
            self.add_error("opens", _("Say from when."))
        return said

    def said(self) -> dict[str, Any]:
        said = super().said()
        day, times = said.pop("day"), (said.pop("opens"), said.pop("closes"))
        for name, time in zip(self.names, times, strict=True):
            said[name] = moment(day, time, self.zone)
        return said


def moment(
    day: dt.date | None, time: dt.time | None, zone: zoneinfo.ZoneInfo
) -> dt.datetime | None:
    """That time of that day at the site."""
    return dt.datetime.combine(day, time, tzinfo=zone) if day and time else None


def span_of(
    opens: dt.datetime | None, closes: dt.datetime | None, zone: zoneinfo.ZoneInfo
) -> dict[str, Any]:
    """What a `SpanForm` starts with."""
    first = opens.astimezone(zone) if opens else None
    last = closes.astimezone(zone) if closes else None
    return {
        "day": first.date() if first else None,
        "opens": first.time() if first else None,
        "closes": last.time() if last else None,
    }
