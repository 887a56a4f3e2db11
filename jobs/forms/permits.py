"""What the authority said: applied, issued, extended, inspected."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.forms_rendering import Choices, DayInput
from contractor.models import Authority
from jobs.forms.blank import Blank, DayForm, SpanForm
from jobs.models import Job, Visit


class AuthorityForm(Blank):
    authority = forms.ModelChoiceField(
        label=_("Authority having jurisdiction"), queryset=Authority.objects.all()
    )


class ApplyForm(DayForm, AuthorityForm):
    on = forms.DateField(label=_("Applied on"), widget=DayInput)
    field_order = ("authority", "on")


class IssueForm(DayForm, AuthorityForm):
    name_of_day = "issued_on"
    number = forms.CharField(label=_("Permit number"), max_length=40)
    on = forms.DateField(label=_("Issued on"), widget=DayInput)
    field_order = ("number", "on", "authority")

    def say_no(self, refused: Any) -> None:
        if "issued_on" in refused.fields:
            refused.fields["on"] = refused.fields.pop("issued_on")
        super().say_no(refused)


class ExtendForm(DayForm):
    name_of_day = "until"
    on = forms.DateField(
        label=_("Good until"),
        widget=DayInput,
        help_text=_("As the authority has written it. Keep its letter."),
    )


class FinalForm(DayForm):
    on = forms.DateField(label=_("Finaled on"), widget=DayInput)


class VisitField(forms.ModelChoiceField):
    def label_from_instance(self, obj: Any) -> str:
        return str(obj.name)


class InspectionForm(Blank):
    name = forms.CharField(label=_("Inspection"), max_length=60)
    after = VisitField(label=_("After the visit"), queryset=Visit.objects.none(), required=False)
    due_days = forms.IntegerField(
        label=_("Due within days of the visit"), min_value=0, max_value=365, initial=5
    )

    def __init__(self, *args: Any, job: Job, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        after = self.fields["after"]
        if isinstance(after, forms.ModelChoiceField):
            after.queryset = job.visits.all()


class RequestForm(SpanForm):
    inspector = forms.CharField(label=_("Inspector"), max_length=80, required=False)
    field_order = ("day", "opens", "closes", "inspector")


class ResultForm(DayForm):
    passed = forms.TypedChoiceField(
        label=_("Result"),
        choices=[("yes", _("passed")), ("no", _("failed"))],
        coerce=lambda word: word == "yes",
        widget=Choices,
    )
    on = forms.DateField(label=_("Inspected on"), widget=DayInput)
    inspector = forms.CharField(label=_("Inspector"), max_length=80, required=False)
    findings = forms.CharField(
        label=_("What the inspector found"),
        required=False,
        widget=forms.Textarea,
        help_text=_("Needed when it failed, so the crew knows what to mend."),
    )
    field_order = ("passed", "on", "inspector", "findings")
