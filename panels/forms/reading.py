"""Readings as they are asked for: voltages all at once, insulation and torque one by one."""

from __future__ import annotations

from typing import Any, cast

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from panels.forms.panel import place_of
from panels.models import Circuit, Panel
from panels.rules import readings
from panels.rules.layout import System
from panels.rules.readings import Measured


class CircuitHere(forms.ModelChoiceField):
    def label_from_instance(self, circuit: Circuit) -> str:
        return f"{place_of(circuit)}: {circuit}"


class ReadingForm(forms.Form):
    """What every kind of reading asks for; `said` is what `readings.record_reading` takes."""

    measured: Measured
    circuit = CircuitHere(
        label=gettext_lazy("Circuit"),
        queryset=Circuit.objects.none(),
        required=False,
        empty_label=gettext_lazy("The panel itself"),
    )
    instrument = forms.CharField(label=gettext_lazy("Instrument"), max_length=80, required=False)

    def __init__(self, *args: Any, panel: Panel, **kwargs: Any) -> None:
        kwargs["prefix"] = self.measured.value
        super().__init__(*args, **kwargs)
        here = panel.circuits.select_related("panel")
        cast(CircuitHere, self.fields["circuit"]).queryset = here.order_by("slots")
        self.system = System(panel.system)

    def said(self) -> list[dict[str, Any]]:
        return [{"kind": self.measured.value, **self.cleaned_data}]


class VoltageForm(ReadingForm):
    """A number for each pair of conductors; those left empty were not measured."""

    measured = Measured.VOLTAGE

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.pairs = readings.pairs(self.system)
        for pair in self.pairs:
            self.fields[pair] = forms.FloatField(
                label=_("%(pair)s, V") % {"pair": pair}, required=False
            )
        self.order_fields([*self.pairs, "circuit", "instrument"])

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if not self.errors and all(cleaned.get(pair) is None for pair in self.pairs):
            raise forms.ValidationError(_("Type at least one voltage."))
        return cleaned

    def said(self) -> list[dict[str, Any]]:
        rest = {name: self.cleaned_data[name] for name in ("circuit", "instrument")}
        return [
            {"kind": self.measured.value, "between": pair, "value": value, **rest}
            for pair in self.pairs
            if (value := self.cleaned_data[pair]) is not None
        ]


class InsulationForm(ReadingForm):
    measured = Measured.INSULATION
    between = forms.ChoiceField(label=gettext_lazy("Between"))
    value = forms.FloatField(label=gettext_lazy("Insulation resistance, MΩ"))
    test_v = forms.IntegerField(label=gettext_lazy("Test voltage, V DC"), initial=500)
    temperature_c = forms.FloatField(label=gettext_lazy("Temperature, °C"), required=False)
    field_order = ("between", "value", "test_v", "temperature_c")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        pairs = readings.conductors(self.system)
        cast(forms.ChoiceField, self.fields["between"]).choices = [(pair, pair) for pair in pairs]


class TorqueForm(ReadingForm):
    measured = Measured.TORQUE
    between = forms.CharField(
        label=gettext_lazy("Terminal"),
        max_length=20,
        help_text=gettext_lazy("e.g. Main lug A, Neutral lug."),
    )
    value = forms.FloatField(label=gettext_lazy("Torque, lb-in"))
    marked_value = forms.FloatField(
        label=gettext_lazy("Value marked on the equipment, lb-in"), required=False
    )
    field_order = ("between", "value", "marked_value")


FORMS: dict[str, type[ReadingForm]] = {
    form.measured.value: form for form in (VoltageForm, InsulationForm, TorqueForm)
}
