"""Which crew, which day, from when until when, and why against a refusal?"""

from __future__ import annotations

import datetime as dt
import zoneinfo
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.forms_rendering import ClockInput, DayInput, Ticks
from contractor.models import Crew, Person, Role
from jobs.forms.blank import WithRevision, moment
from jobs.models import Visit
from jobs.planning.words import Code

REASON = "reason_"


class PlanForm(WithRevision):
    """Reasons for insisting come in fields named `reason_` and the refusal's code."""

    crew = forms.ModelChoiceField(
        label=_("Crew"), queryset=Crew.objects.filter(is_active=True), empty_label=None
    )
    day = forms.DateField(label=_("Day"), widget=DayInput)
    starts = forms.TimeField(label=_("Starts"), widget=ClockInput)
    ends = forms.TimeField(label=_("Ends"), widget=ClockInput, required=False)
    people = forms.ModelMultipleChoiceField(
        label=_("Other people than usual"),
        queryset=Person.objects.none(),
        required=False,
        widget=Ticks,
        help_text=_("Nobody ticked: the crew’s usual people go."),
    )

    def __init__(self, *args: Any, visit: Visit, zone: zoneinfo.ZoneInfo, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.visit, self.zone = visit, zone
        people = self.fields["people"]
        if isinstance(people, forms.ModelMultipleChoiceField):
            people.queryset = Person.objects.filter(is_active=True, role=Role.TECHNICIAN)

    def clean(self) -> dict[str, Any]:
        said: dict[str, Any] = super().clean() or {}
        starts, ends = said.get("starts"), said.get("ends")
        if starts and ends and ends <= starts:
            self.add_error("ends", _("The visit has to end after it starts."))
        return said

    def said(self) -> dict[str, Any]:
        said = super().said()
        starts_at = moment(said["day"], said["starts"], self.zone)
        return {
            "crew": said["crew"],
            "starts_at": starts_at,
            "ends_at": moment(said["day"], said["ends"], self.zone),
            "people": list(said["people"]) or None,
            "rev": said["rev"],
            "overrides": self.reasons(),
        }

    def reasons(self) -> dict[str, str]:
        return {
            code.value: self.data[REASON + code]
            for code in Code
            if self.data.get(REASON + code, "").strip()
        }

    def is_valid_so_far(self) -> bool:
        """There is a whole plan to judge, whatever the service said of it since."""
        wanted = ("crew", "day", "starts")
        self.is_valid()
        return all(name in self.cleaned_data for name in wanted) and "ends" not in self.errors

    def day_looked_at(self) -> dt.date | None:
        """The day whose crews are shown beside, before the plan is whole."""
        day = self.cleaned_data.get("day") if self.is_bound and self.is_valid() else None
        return day or self.initial.get("day")

    def ends_at(self) -> dt.datetime:
        """When the visit would end, by what was typed or by the expected minutes."""
        said = self.said()
        expected = dt.timedelta(minutes=self.visit.expected_minutes)
        ends: dt.datetime = said["ends_at"] or said["starts_at"] + expected
        return ends

    def going(self) -> list[Person]:
        said = self.cleaned_data
        return list(said["people"]) or list(said["crew"].people.filter(is_active=True))
