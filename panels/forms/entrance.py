"""The service entrance as it is asked for, and what a fault study lets one choose."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.forms.revised import RevisedForm
from contractor.forms_rendering import DayInput, Segmented, Stepper
from panels.forms.load import BasisForm
from panels.models import ServiceEntrance
from panels.rules.fault.practice import CONVENTIONS, HALVES
from panels.services import trees
from panels.services.entrance import EntranceFacts

YES_NO = [("", _("not recorded")), ("true", _("yes")), ("false", _("no"))]


class EntranceForm(RevisedForm):
    class Meta:
        model = ServiceEntrance
        fields = tuple(EntranceFacts.__annotations__)
        widgets: ClassVar = {
            "stated_on": DayInput,
            "wire_material": Segmented,
            "raceway": Segmented,
            "wire_sets": Stepper,
            "grounding_material": Segmented,
            "disconnect_outdoors": forms.NullBooleanSelect,
            "disconnect_marked": forms.NullBooleanSelect,
        }
        help_texts: ClassVar = {
            "available_xr": _("Ask for it with the figure. Empty: every X/R is allowed for."),
            "transformer_kva": _("From its nameplate, where the utility gives no figure."),
            "transformer_xr": _("Empty: every X/R is allowed for."),
            "length_ft": _("From where the utility’s figure holds to the service disconnect."),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("disconnect_outdoors", "disconnect_marked"):
            self.fields[name].widget.choices = [("unknown", YES_NO[0][1]), *YES_NO[1:]]


class FaultForm(forms.Form):
    """How to calculate; everything has a choice that is usual."""

    asked = forms.BooleanField(widget=forms.HiddenInput, required=False, initial=True)
    tolerance = forms.BooleanField(
        label=_("%Z of transformers 10 % lower"),
        required=False,
        initial=True,
        help_text=_("As the published guide does where the %Z is not a measured one."),
    )
    motors = forms.FloatField(
        label=_("Motors running, full-load A"), required=False, min_value=0, max_value=10_000
    )
    half_winding = forms.ChoiceField(
        label=_("Half of a center-tapped winding"),
        required=False,
        choices=[(key, half.value.label) for key, half in HALVES.items()],
    )
    convention = forms.ChoiceField(
        label=_("Point to point, to neutral"), required=False, choices=list(CONVENTIONS.items())
    )

    def chosen(self) -> dict[str, Any]:
        """As the rules read it; what is not asked for, or makes no sense, as is usual."""
        if not self.is_bound or not self.is_valid():
            return dict(trees.USUAL)
        said = {name: value for name, value in self.cleaned_data.items() if value}
        said.pop("asked", None)
        if "motors" in said:
            said["motors"] = {"value": said["motors"], "unit": "A"}
        return said


class KeepForm(BasisForm):
    """Keep what the page shows."""

    purpose = forms.CharField(
        label=_("What it is for"),
        required=False,
        max_length=200,
        help_text=_("Printed on the worksheet, e.g. permit application EL-26-0317."),
    )
    field_order = ["on", "purpose", "edition", "stated_by"]
