"""What does a visit need, what does it wait for, and what was the customer promised?"""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.forms_rendering import DayInput
from contractor.models import CertificateKind, Grade
from jobs.forms.blank import Blank, SpanForm, WithRevision
from jobs.models import CloseOutLine, Hold, Inspection, Job
from jobs.models.kinds import choices
from jobs.planning.words import CloseOutKind, HoldKind


class NeedsForm(Blank):
    """How long, how many people, of what grade."""

    name = forms.CharField(label=_("Visit"), max_length=60)
    expected_minutes = forms.IntegerField(
        label=_("Expected minutes"), min_value=5, max_value=1440, initial=120
    )
    people_needed = forms.IntegerField(label=_("People"), min_value=1, max_value=20, initial=1)
    grade_needed = forms.TypedChoiceField(
        label=_("Licence grade on site"),
        required=False,
        coerce=int,
        empty_value=None,
        choices=[("", _("none in particular")), *Grade.choices],
    )
    certificate_needed = forms.ModelChoiceField(
        label=_("Certificate on site"),
        required=False,
        queryset=CertificateKind.objects.all(),
        empty_label=_("none"),
    )


class ChangeVisitForm(WithRevision, NeedsForm):
    pass


class PromiseForm(WithRevision, SpanForm):
    names = ("promised_from", "promised_until")
    field_order = ("day", "opens", "closes")


class HoldForm(Blank):
    kind = forms.ChoiceField(label=_("Waits for"), choices=choices(HoldKind))
    label = forms.CharField(label=_("What exactly"), max_length=120, required=False)
    inspection = forms.ModelChoiceField(
        label=_("Which inspection"),
        queryset=Inspection.objects.none(),
        required=False,
        help_text=_("Only when it waits for an inspection."),
    )
    expected_on = forms.DateField(label=_("Expected on"), widget=DayInput, required=False)

    def __init__(self, *args: Any, job: Job, hold: Hold | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        inspection = self.fields["inspection"]
        if isinstance(inspection, forms.ModelChoiceField):
            inspection.queryset = job.inspections.all()
        if hold:
            del self.fields["kind"]
            if hold.kind != HoldKind.INSPECTION:
                del self.fields["inspection"]


class ReleaseForm(Blank):
    reason = forms.CharField(
        label=_("How you know"),
        max_length=200,
        required=False,
        help_text=_("For example: counted in the yard; confirmed by phone."),
    )


class LineForm(Blank):
    """One line of a close-out list."""

    label = forms.CharField(label=_("Line"), max_length=120)
    asks = forms.ChoiceField(label=_("Asks for"), choices=choices(CloseOutKind))
    required = forms.BooleanField(label=_("Must be there to close"), required=False, initial=True)
    may_not_apply = forms.BooleanField(
        label=_("May be marked “does not apply here”"), required=False, initial=True
    )


class ChangeLineForm(WithRevision, LineForm):
    pass


def line_answers(line: CloseOutLine) -> dict[str, Any]:
    names = ("label", "asks", "required", "may_not_apply", "rev")
    return {name: getattr(line, name) for name in names}
