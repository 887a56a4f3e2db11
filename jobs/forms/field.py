"""What a technician fills in: an answer to a line, a signature, times, notes, a photo's words."""

from __future__ import annotations

import json
import zoneinfo
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from contractor.forms_rendering import DayInput, MomentInput
from contractor.models import Person
from jobs.forms.blank import Blank, WithRevision
from jobs.models import CloseOutLine, Job, Photo
from panels.forms.reading import FORMS, ReadingForm
from panels.models import Panel


class NoteForm(WithRevision):
    text = forms.CharField(
        label=_("What the next one should know"),
        max_length=5000,
        required=False,
        widget=forms.Textarea({"rows": 4}),
        help_text=_("The customer does not read this."),
    )


class WordsForm(WithRevision):
    """The answer to a line that asks for words."""

    text = forms.CharField(
        label=_("What is to be kept"), max_length=5000, widget=forms.Textarea({"rows": 4})
    )


class WhyNotForm(WithRevision):
    because = forms.CharField(label=_("Why it does not apply here"), max_length=300)


class RevisionForm(WithRevision):
    """A button that only says which revision it was pressed on."""


class TimesForm(WithRevision):
    """When it really was, at the site."""

    arrived_at = forms.DateTimeField(label=_("Arrived"), widget=MomentInput)
    left_at = forms.DateTimeField(
        label=_("Left"),
        widget=MomentInput,
        required=False,
        help_text=_("Empty: someone is still there."),
    )

    def __init__(self, *args: Any, zone: zoneinfo.ZoneInfo, **kwargs: Any) -> None:
        self.zone = zone
        super().__init__(*args, **kwargs)

    def full_clean(self) -> None:
        with timezone.override(self.zone):
            super().full_clean()


class SignForm(WithRevision):
    """A name with its drawing; the name alone where nothing can be drawn."""

    signature_id = forms.UUIDField(widget=forms.HiddenInput, required=False)
    signed_name = forms.CharField(label=_("Name of the person signing"), max_length=120)
    strokes = forms.CharField(widget=forms.HiddenInput, required=False, max_length=200_000)
    by_typed_name = forms.BooleanField(
        label=_("Signs by typed name"),
        required=False,
        help_text=_("For a broken screen or a hand that cannot draw. It is kept as such."),
    )

    def clean_strokes(self) -> Any:
        text = self.cleaned_data["strokes"]
        try:
            return json.loads(text) if text else None
        except (ValueError, RecursionError):
            return {}  # refused by the service in its own words


class AbsentForm(WithRevision):
    signature_id = forms.UUIDField(widget=forms.HiddenInput, required=False)
    absent_reason = forms.CharField(label=_("Why nobody could sign"), max_length=200)


class CloseForm(WithRevision):
    close_out_id = forms.UUIDField(widget=forms.HiddenInput, required=False)
    issue_directories = forms.BooleanField(label=_("Issue these directories now"), required=False)


class ReopenForm(WithRevision):
    because = forms.CharField(label=_("Why it is opened again"), max_length=200)


class WhoseDayForm(forms.Form):
    """Which day, and for the office whose."""

    on = forms.DateField(label=_("Day"), widget=DayInput, required=False)
    person = forms.ModelChoiceField(
        label=_("Person"), queryset=Person.objects.filter(is_active=True), required=False
    )


class PhotoForm(Blank):
    """What a photo shows, which line it proves, which panel is on it."""

    rev = forms.IntegerField(widget=forms.HiddenInput, required=False)
    caption = forms.CharField(label=_("What it shows"), max_length=120, required=False)
    line = forms.ModelChoiceField(
        label=_("Proves this line"),
        queryset=CloseOutLine.objects.none(),
        required=False,
        empty_label=_("none"),
    )
    panel = forms.ModelChoiceField(
        label=_("Panel on it"), queryset=Panel.objects.none(), required=False, empty_label=_("none")
    )

    def __init__(self, *args: Any, job: Job, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["line"].queryset = job.close_out.all()
        self.fields["panel"].queryset = job.site.panels.filter(retired_at=None)

    @classmethod
    def of(cls, photo: Photo, job: Job, data: Any = None) -> PhotoForm:
        names = ("rev", "caption", "line", "panel")
        return cls(data, job=job, initial={name: getattr(photo, name) for name in names})


def reading_form(
    line: CloseOutLine, panel: Panel, data: Any = None, *, start: dict[str, Any] | None = None
) -> ReadingForm:
    """The panel room's own form for this kind of reading, told apart from its neighbours."""
    return FORMS[line.asks](data, panel=panel, auto_id=f"id_{line.pk}_%s", initial=start or {})
