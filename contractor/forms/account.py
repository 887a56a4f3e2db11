"""What a person keeps of themselves: name, phone, devices."""

from __future__ import annotations

from typing import ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.forms_rendering import PhoneInput
from contractor.models import Person


class OwnDetailsForm(forms.ModelForm):
    class Meta:
        model = Person
        fields: ClassVar = ["name", "phone"]
        widgets: ClassVar = {
            "name": forms.TextInput({"autocomplete": "name"}),
            "phone": PhoneInput({"autocomplete": "tel"}),
        }


class DeviceForm(forms.Form):
    name = forms.CharField(
        label=_("Name of the device"),
        max_length=60,
        help_text=_("Such as “van 2 tablet”: you will know it by this name when it is lost."),
    )
