"""Customers and their sites."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.forms.firm import state_field
from contractor.forms.revised import RevisedForm
from contractor.forms.zones import ZoneField
from contractor.forms_rendering import PhoneInput
from contractor.models import Customer, Firm, Site


class CustomerForm(RevisedForm):
    state = state_field()

    class Meta:
        model = Customer
        fields: ClassVar = [
            "name", "phone", "email", "street", "city", "state", "zip", "notes", "list_key",
        ]  # fmt: skip
        widgets: ClassVar = {
            "name": forms.TextInput({"autofocus": True, "autocomplete": "off"}),
            "phone": PhoneInput({"autocomplete": "off"}),
            "email": forms.EmailInput({"autocomplete": "off"}),
        }
        labels: ClassVar = {"street": _("Billing street"), "city": _("City")}
        help_texts: ClassVar = {
            "list_key": _("If you keep a list elsewhere: its number keeps the two together."),
        }

    def clean_list_key(self) -> str | None:
        return self.cleaned_data["list_key"] or None


class SiteForm(RevisedForm):
    state = state_field(required=True)
    time_zone = ZoneField(label=_("Time zone"), blank=_("as the ZIP code says"))

    class Meta:
        model = Site
        fields: ClassVar = [
            "label", "street", "city", "state", "zip", "authority", "utility", "access_notes",
            "pet_notes", "latitude", "longitude", "time_zone",
        ]  # fmt: skip
        help_texts: ClassVar = {
            "label": _("Such as “upper flat” or “shop”, when the street alone does not say."),
            "access_notes": _(
                "Shown to the crew on the day. Codes too: only your people see them."
            ),
        }
        widgets: ClassVar = {
            "latitude": forms.NumberInput({"step": "any"}),
            "longitude": forms.NumberInput({"step": "any"}),
        }

    def __init__(self, *args: Any, firm: Firm | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("authority", "utility"):
            self.fields[name].empty_label = _("not known")
        if not self.instance._state.adding:
            self.fields["time_zone"].required = True
        elif firm and not self.initial.get("state"):
            self.initial["state"] = firm.state


class ListForm(forms.Form):
    not_done = _("Not read yet")
    file = forms.FileField(
        label=_("Your list"),
        allow_empty_file=True,
        widget=forms.FileInput({"accept": ".csv,.xlsx,.txt,text/csv"}),
        help_text=_("CSV or XLSX, column names in the first row."),
    )
