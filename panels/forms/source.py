"""Storage, solar, a generator or a vehicle's supply, as it is asked for."""

from __future__ import annotations

from typing import Any, ClassVar, cast

from django import forms
from django.utils.translation import gettext_lazy

from contractor.forms.revised import RevisedForm
from contractor.forms_rendering import Choices
from contractor.models import Site
from panels.forms.panel import place_of
from panels.models import Circuit, Source
from panels.queries import records

COLUMNS = (
    "kind",
    "name",
    "circuit",
    "location",
    "disconnect_at",
    "rated_a",
    "rated_kva",
    "surge_kva",
    "usable_kwh",
    "peak_kw",
    "hourly",
    "position",
    "labelled",
    "transfer",
    "altitude_ft",
    "fuel",
    "fuel_unit",
    "fuel_full_per_h",
    "fuel_half_per_h",
    "fuel_on_hand",
    "notes",
)
HELP = {
    "name": gettext_lazy("What people here call it, e.g. Garage battery."),
    "disconnect_at": gettext_lazy("Where to switch it off, so that it is found in an emergency."),
}


class CircuitAt(forms.ModelChoiceField):
    def label_from_instance(self, circuit: Circuit) -> str:
        return f"{circuit.panel}, {place_of(circuit)}: {circuit}, {circuit.rating_a} A"


class SourceForm(RevisedForm):
    circuit = CircuitAt(
        label=gettext_lazy("Connected at"),
        queryset=Circuit.objects.none(),
        required=False,
        empty_label=gettext_lazy("Not at a breaker here, or not known"),
    )

    class Meta:
        model = Source
        fields = COLUMNS
        help_texts = HELP
        widgets: ClassVar = {"kind": Choices, "notes": forms.Textarea({"rows": 2})}

    def __init__(self, *args: Any, site: Site, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        cast(forms.ChoiceField, self.fields["kind"]).choices = Source.Kind.choices
        cast(CircuitAt, self.fields["circuit"]).queryset = records.breakers_at(site)
