"""Which outage is looked at: when, for how long, fed by what, with how much let go?"""

from __future__ import annotations

import datetime as dt
from typing import Any
from uuid import UUID

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext_lazy as _

from contractor.forms_rendering import Choices, ClockInput, DayInput, Segmented, Ticks
from panels.forms.load import BasisForm
from panels.models import Source
from panels.queries.standby import StandbyRecord
from panels.rules.standby.simulate import GENERATOR, STORAGE
from panels.services.standby import Asked, stages_of

SPANS = [(24, _("a day")), (48, _("two days")), (72, _("three days")), (168, _("a week"))]
EVENING = dt.time(18)
TYPICAL, METER = "typical", "meter"


class OutageForm(forms.Form):
    """Asked in the address, so that a picture can be sent on as a link."""

    day = forms.DateField(label=_("Power goes out on"), widget=DayInput)
    clock = forms.TimeField(label=_("at"), widget=ClockInput)
    hours = forms.TypedChoiceField(label=_("Look ahead"), choices=SPANS, coerce=int)
    until = forms.TimeField(
        label=_("To reach"), required=False, widget=ClockInput, help_text=_("Empty: sunrise.")
    )
    shed = forms.TypedChoiceField(label=_("Off from the start"), coerce=int)
    let_go = forms.FloatField(
        label=_("Let more go at a charge of, %"),
        required=False,
        min_value=0,
        max_value=100,
        help_text=_("Empty: nothing more is switched off."),
    )
    sources = forms.MultipleChoiceField(label=_("Fed by"), required=False, widget=Ticks)
    first = forms.ChoiceField(
        label=_("Asked first"),
        choices=[(STORAGE, _("storage")), (GENERATOR, _("generator"))],
        widget=Segmented,
        required=False,
    )
    profile = forms.ChoiceField(
        label=_("Load"),
        choices=[(TYPICAL, _("a typical day")), (METER, _("the meter’s year"))],
        widget=Segmented,
        required=False,
    )

    def __init__(
        self, asked: QueryDict, *, record: StandbyRecord, today: dt.date, has_meter: bool
    ) -> None:
        super().__init__(_with_defaults(asked, record, today))
        offs = [
            (each, _("everything up to number %(n)s") % {"n": each}) for each in stages_of(record)
        ]
        self.fields["shed"].choices = [(0, _("nothing")), *offs]
        self.fields["sources"].choices = [(str(one.pk), one.name) for one in record.sources]
        if not {"storage", "generator"} <= {one.kind for one in record.sources}:
            del self.fields["first"]
        if not has_meter:
            del self.fields["profile"]

    @property
    def asked(self) -> Asked:
        """What was asked; the form is valid."""
        said = self.cleaned_data
        start = dt.datetime.combine(said["day"], said["clock"].replace(second=0, microsecond=0))
        return Asked(
            start=start,
            hours=said["hours"],
            until=said["until"],
            shed=said["shed"],
            sources=tuple(map(UUID, said["sources"])),
            let_go_percent=said["let_go"],
            generator_first=said.get("first") == GENERATOR,
            from_meter=said.get("profile") == METER,
        )


def _with_defaults(asked: QueryDict, record: StandbyRecord, today: dt.date) -> QueryDict:
    """What was asked; this evening with everything on, where nothing was."""
    data = asked.copy()
    if not data.get("sources"):
        first = [one for one in record.sources if one.kind == Source.Kind.GENERATOR][1:]
        data.setlist("sources", [str(one.pk) for one in record.sources if one not in first])
    start = {"day": today.isoformat(), "clock": f"{EVENING:%H:%M}", "hours": "72", "shed": "0"}
    for name, value in {**start, "first": STORAGE, "profile": TYPICAL}.items():
        data.setdefault(name, value)
    return data


class KeepOutageForm(BasisForm):
    """Which of the answers on the page is kept, and by which edition."""

    what = forms.ChoiceField(label=_("Keep"), widget=Choices)
    purpose = forms.CharField(
        label=_("What it is for"),
        required=False,
        max_length=200,
        help_text=_("Printed on the worksheet, e.g. permit application EL-26-0317."),
    )
    field_order = ("what", "on", "edition", "stated_by", "purpose")

    def __init__(self, *args: Any, kept: list[tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["what"].choices = kept
