"""A home's facts, its loads, and a calculation, as they are asked for."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.forms.revised import RevisedForm
from contractor.forms_rendering import DayInput, Segmented, Stepper
from contractor.models import Site
from panels.editions import EDITIONS
from panels.forms.source import CircuitAt
from panels.models import Circuit, Home, Load
from panels.queries import records
from panels.queries.premises import load_rules, premises_at
from panels.rules.dwelling import Kind
from panels.rules.questions import LOADS

FACTS = (
    "floor_area_ft2", "small_appliance_circuits", "laundry_circuits", "system", "service_a",
    "is_feeder", "managed_a", "bathrooms", "has_garage",
)  # fmt: skip
QUICK = ("kind", "name", "nameplate", "unit", "volts", "count")
SAID = (
    "kind", "name", "circuit", "nameplate", "unit", "volts", "power_factor", "count", "leg",
    "phases", "one_of", "motor", "horsepower", "starting_a", "controlled_separately",
    "locked_out", "continuous", "managed", "new",
)  # fmt: skip


ABOVE_ZERO = {"min_value": _("Give a number above zero.")}
NUMBERS = {"nameplate": ABOVE_ZERO, "volts": ABOVE_ZERO, "power_factor": ABOVE_ZERO}


def fit_to(form: forms.ModelForm, site: Site) -> None:
    """The kinds, legs and phases that the site's home or shop can have."""
    service, kinds = load_rules(premises_at(site))
    known = [(kind.value, kind.label) for kind in Kind if kind in kinds]
    form.fields["kind"].choices = [("", _("choose a kind")), *known]
    if "leg" in form.fields:
        legs = [(leg, leg) for leg in service.supply.system.legs]
        form.fields["leg"].choices = [("", _("both, or not known")), *legs]
    if "phases" in form.fields and service.supply.phases == 1:
        del form.fields["phases"]


def ask_for_nameplate(form: forms.ModelForm, said: dict[str, Any]) -> None:
    """Only of vehicle supply it may be unknown; said at its field before the database says it."""
    if said.get("nameplate", 1) is None and said.get("kind") != Kind.VEHICLE.value:
        told = _("Read it off the nameplate; a breaker’s rating is not a load.")
        form.add_error("nameplate", told)


def editions(empty: Any) -> list[tuple[str, Any]]:
    return [("", empty), *((edition.key, edition.title) for edition in EDITIONS.values())]


class HomeForm(RevisedForm):
    class Meta:
        model = Home
        fields = FACTS
        widgets: ClassVar = {"small_appliance_circuits": Stepper, "laundry_circuits": Stepper}
        error_messages: ClassVar = {"floor_area_ft2": ABOVE_ZERO, "managed_a": ABOVE_ZERO}


class LoadForm(RevisedForm):
    """Everything a load can say. What the nameplate lacks is refused by the service, in words."""

    circuit = CircuitAt(
        label=_("On circuit"),
        queryset=Circuit.objects.none(),
        required=False,
        empty_label=_("not on a circuit of the record"),
    )

    class Meta:
        model = Load
        fields = SAID
        error_messages: ClassVar = NUMBERS
        widgets: ClassVar = {"unit": Segmented, "count": Stepper}
        help_texts: ClassVar = {
            "name": _("Empty: the kind stands for it."),
            "nameplate": _("As read on the equipment. Never the breaker’s rating."),
            "volts": _("Needed with amperes, as on the nameplate. Empty: between the legs."),
            "power_factor": _("Only for watts of anything but resistance heat."),
            "leg": _("Where a 120 V load is known to stand on one leg."),
            "controlled_separately": _("Heaters with a thermostat each."),
        }

    def __init__(self, *args: Any, site: Site, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["circuit"].queryset = records.breakers_at(site)
        self.fields["name"].required = False
        self.fields["unit"].choices = Load.Unit.choices
        self.fields["phases"].required = False
        fit_to(self, site)

    def clean(self) -> dict[str, Any]:
        said: dict[str, Any] = super().clean() or self.cleaned_data
        ask_for_nameplate(self, said)
        return said


class QuickLoadForm(forms.ModelForm):
    """One line of the list: enough for most loads."""

    class Meta:
        model = Load
        fields = QUICK
        error_messages: ClassVar = NUMBERS
        labels: ClassVar = {"count": _("count")}
        widgets: ClassVar = {"volts": forms.NumberInput({"step": "any"})}

    def __init__(self, *args: Any, site: Site, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["name"].required = False
        fit_to(self, site)
        self.fields["count"].initial = 1
        self.fields["unit"].initial = Load.Unit.VA


class BasisForm(forms.Form):
    """The day and, where no adoption is on record, the edition and who stated it."""

    on = forms.DateField(
        label=_("Edition in force on"),
        required=False,
        widget=DayInput,
        help_text=_("Empty: the day the open permit was applied for, else today."),
    )
    edition = forms.ChoiceField(
        label=_("Edition"), required=False, choices=lambda: editions(_("as adopted there"))
    )
    stated_by = forms.CharField(
        label=_("Who stated it"),
        required=False,
        max_length=200,
        help_text=_("Only with an edition other than the adopted one."),
    )


class CalculationForm(BasisForm):
    method = forms.ChoiceField(label=_("Method"), widget=Segmented)
    purpose = forms.CharField(
        label=_("What it is for"),
        required=False,
        max_length=200,
        help_text=_("Printed on the worksheet, e.g. permit application EL-26-0317."),
    )
    field_order = ["method", "on", "edition", "stated_by", "purpose"]

    def __init__(self, *args: Any, methods: list[str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["method"].choices = [(key, LOADS[key].title) for key in methods]
        if len(methods) == 1:
            self.fields["method"].initial = methods[0]
