"""What is to be done, and of which kind is it?"""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from contractor.forms_rendering import Choices
from jobs.forms.blank import Blank, WithRevision
from jobs.models import JobKind
from jobs.models.kinds import choices
from jobs.planning.steps import NextStep
from jobs.planning.words import JobState


class KindField(forms.ModelChoiceField):
    """Each kind says what it lays out."""

    def label_from_instance(self, kind: Any) -> SafeString:
        visits = [visit.name for visit in kind.visits.all()]
        count = len(kind.inspections.all())
        asks: list[Any] = [_("permit")] if kind.needs_permit else []
        if count:
            asks.append(
                ngettext("%(count)d inspection", "%(count)d inspections", count) % {"count": count}
            )
        return format_html(
            '<span>{}<span class="sub">{}</span></span>',
            kind.name,
            " · ".join([", ".join(visits), *[str(ask) for ask in asks]]),
        )


class BookForm(Blank):
    kind = KindField(
        label=_("Kind of job"), queryset=JobKind.objects.none(), widget=Choices, empty_label=None
    )
    title = forms.CharField(
        label=_("What is to be done"),
        max_length=120,
        help_text=_("As you would say it on the phone: 200 A main, subpanel in the garage."),
    )
    scope = forms.CharField(label=_("Details for the crew"), required=False, widget=forms.Textarea)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        kinds = JobKind.objects.filter(is_active=True, answers_callbacks=False)
        kind = self.fields["kind"]
        if isinstance(kind, forms.ModelChoiceField):
            kind.queryset = kinds.prefetch_related("visits", "inspections")


class JobForm(WithRevision):
    title = BookForm.base_fields["title"]
    scope = BookForm.base_fields["scope"]


class CancelForm(WithRevision):
    because = forms.CharField(label=_("Why it is cancelled"), max_length=200)


class FindJobs(forms.Form):
    """The list's filters; whatever is not understood filters nothing."""

    q = forms.CharField(required=False)
    state = forms.ChoiceField(
        label=_("State"),
        required=False,
        choices=[("all", _("all")), *choices(JobState)],
    )
    kind = forms.ModelChoiceField(
        label=_("Kind"), required=False, queryset=JobKind.objects.all(), empty_label=_("every kind")
    )
    step = forms.ChoiceField(
        label=_("Next"),
        required=False,
        choices=[
            ("", _("anything")),
            *[
                (step.value, _(step.label))
                for step in NextStep
                if step not in (NextStep.CLOSED, NextStep.CANCELLED)
            ],
        ],
    )

    def wanted(self) -> dict[str, str]:
        """The filters for `queries.jobs`; open jobs when nothing is said."""
        self.full_clean()
        said = self.cleaned_data
        state = said.get("state") or ("" if said.get("q") else JobState.OPEN)
        kind = said.get("kind")
        return {
            "words": said.get("q") or "",
            "state": "" if state == "all" else state,
            "kind": str(kind.pk) if kind else "",
            "step": said.get("step") or "",
        }
