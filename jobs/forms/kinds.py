"""What does a kind of job usually need? One form for the kind, one for each of its parts."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from contractor.models.fields import states
from jobs.models import (
    JobKind,
    KindCloseOut,
    KindHold,
    KindInspection,
    KindVisit,
    SupervisionRule,
)
from jobs.planning.words import HoldKind


class KindForm(forms.ModelForm):
    class Meta:
        model = JobKind
        fields: ClassVar = ["name", "description", "needs_permit", "is_active", "source"]
        widgets: ClassVar = {"description": forms.Textarea(attrs={"rows": 2})}


class PartForm(forms.ModelForm):
    """A part of a kind; what it may name is limited to the same kind."""

    def __init__(self, *args: Any, kind: JobKind, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        visits, inspections = kind.visits.all(), kind.inspections.all()
        same_kind: dict[str, QuerySet[Any]] = {
            "after": visits,
            "visit": visits,
            "inspection": inspections,
        }
        for name, rows in same_kind.items():
            field = self.fields.get(name)
            if isinstance(field, forms.ModelChoiceField):
                field.queryset = rows
        if not isinstance(self.instance, KindHold):
            self.instance.kind = kind


class KindVisitForm(PartForm):
    class Meta:
        model = KindVisit
        fields: ClassVar = [
            "name", "expected_minutes", "people_needed", "grade_needed", "certificate_needed",
        ]  # fmt: skip


class KindInspectionForm(PartForm):
    class Meta:
        model = KindInspection
        fields: ClassVar = ["name", "after", "due_days"]


class KindHoldForm(PartForm):
    class Meta:
        model = KindHold
        fields: ClassVar = ["visit", "kind", "label", "inspection"]

    def clean(self) -> dict[str, Any]:
        said: dict[str, Any] = super().clean() or {}
        waits_for_one = said.get("kind") == HoldKind.INSPECTION
        if waits_for_one and not said.get("inspection"):
            self.add_error("inspection", _("Say which inspection has to pass first."))
        if not waits_for_one:
            said["inspection"] = None
        return said


class KindLineForm(PartForm):
    class Meta:
        model = KindCloseOut
        fields: ClassVar = ["label", "asks", "required", "may_not_apply"]


class SupervisionForm(forms.ModelForm):
    class Meta:
        model = SupervisionRule
        fields: ClassVar = ["state", "apprentices_per_supervisor", "supervisor_grade", "source"]

    state = forms.ChoiceField(
        label=_("State"), required=False, choices=[("", _("anywhere else")), *states()]
    )
