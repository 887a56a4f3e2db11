"""What is proposed at a site, and keeping what came of it, as they are asked for."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.forms_rendering import Segmented
from contractor.models import Site
from panels.forms.load import NUMBERS, BasisForm, ask_for_nameplate, fit_to
from panels.models import Load


class ProposalForm(forms.ModelForm):
    """One load to be added, and the rating that is there now."""

    not_done = _("Not worked out yet")
    service_a = forms.IntegerField(
        label=_("Service that is there, A"), required=False, min_value=1, max_value=6000
    )

    class Meta:
        model = Load
        fields = (
            "kind", "name", "nameplate", "unit", "volts", "count", "phases", "power_factor",
            "continuous",
        )  # fmt: skip
        widgets: ClassVar = {"unit": Segmented}
        error_messages: ClassVar = NUMBERS
        help_texts: ClassVar = {
            "nameplate": _("As on the nameplate or the data sheet. Never the breaker’s rating."),
            "volts": _("Needed with amperes. Empty: between the legs, where that goes."),
            "power_factor": _("Only for watts of anything but resistance heat."),
        }

    def __init__(self, *args: Any, site: Site, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("name", "count", "phases"):
            self.fields[name].required = False
        self.fields["unit"].choices = Load.Unit.choices
        fit_to(self, site)

    def clean(self) -> dict[str, Any]:
        said: dict[str, Any] = super().clean() or self.cleaned_data
        ask_for_nameplate(self, said)
        said["count"] = said.get("count") or 1
        if "phases" in self.fields:
            said["phases"] = said.get("phases") or 1
        return said


class KeepForm(BasisForm):
    """By which edition, and what for."""

    purpose = forms.CharField(
        label=_("What it is for"),
        required=False,
        max_length=200,
        help_text=_("Printed on the worksheet, e.g. vehicle supply in the garage."),
    )
