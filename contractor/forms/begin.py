"""The very first form: the firm's name and its first owner."""

from __future__ import annotations

from typing import Any

from django import forms
from django.conf import settings
from django.utils.translation import gettext_lazy as _

from contractor.forms.zones import ZoneField
from contractor.models.fields import normal_email


class BeginForm(forms.Form):
    firm_name = forms.CharField(
        label=_("The firm’s name"),
        max_length=120,
        widget=forms.TextInput({"autocomplete": "organization", "autofocus": True}),
    )
    time_zone = ZoneField(label=_("Time zone"), initial="America/New_York")
    name = forms.CharField(
        label=_("Your name"), max_length=120, widget=forms.TextInput({"autocomplete": "name"})
    )
    email = forms.CharField(
        label=_("Your e-mail"),
        max_length=254,
        widget=forms.EmailInput({"autocomplete": "username"}),
        help_text=_("You sign in with it."),
    )
    password = forms.CharField(
        label=_("Password"),
        strip=False,
        max_length=256,
        widget=forms.PasswordInput({"autocomplete": "new-password"}),
        help_text=_("Twelve characters or more. A few words in a row are good and easy to keep."),
    )
    setup_code = forms.CharField(
        label=_("Set-up code"),
        widget=forms.PasswordInput({"autocomplete": "off"}),
        help_text=_("The SETUP_CODE this server was started with. Ask whoever runs it."),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not (settings.PRODUCTION or settings.SETUP_CODE):
            del self.fields["setup_code"]

    def clean_email(self) -> str:
        return normal_email(self.cleaned_data["email"])
