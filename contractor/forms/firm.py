"""The firm's own settings, and the short lists it keeps."""

from __future__ import annotations

from typing import ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.forms.zones import ZoneField
from contractor.forms_rendering import ClockInput, PhoneInput, Ticks
from contractor.models import Authority, CertificateKind, Firm, Utility
from contractor.models.fields import states

WEEKDAYS = [
    (1, _("Monday")),
    (2, _("Tuesday")),
    (3, _("Wednesday")),
    (4, _("Thursday")),
    (5, _("Friday")),
    (6, _("Saturday")),
    (7, _("Sunday")),
]


def state_field(*, required: bool = False, label: str | None = None) -> forms.ChoiceField:
    return forms.ChoiceField(
        label=label or _("State"),
        required=required,
        choices=lambda: [("", "—"), *((code, f"{code} · {name}") for code, name in states())],
        widget=forms.Select({"autocomplete": "off"}),
    )


class FirmForm(forms.ModelForm):
    state = state_field()
    time_zone = ZoneField(
        label=_("Time zone"),
        help_text=_("Days and hours on every page are told in it, except at sites in another."),
    )
    workdays = forms.TypedMultipleChoiceField(
        label=_("Working days"), choices=WEEKDAYS, coerce=int, widget=Ticks
    )

    class Meta:
        model = Firm
        fields: ClassVar = [
            "name", "licence_number", "phone", "email", "street", "city", "state", "zip",
            "time_zone", "locale", "workdays", "work_starts", "work_ends", "check_in_days",
            "messages_from", "messages_until", "link_days", "door_link_days",
        ]  # fmt: skip
        widgets: ClassVar = {
            "phone": PhoneInput,
            "work_starts": ClockInput,
            "work_ends": ClockInput,
            "messages_from": ClockInput,
            "messages_until": ClockInput,
        }
        help_texts: ClassVar = {
            "licence_number": _("Printed on every directory, permit sheet and mail."),
            "check_in_days": _("The mail that asks whether all is well."),
        }


class AuthorityForm(forms.ModelForm):
    class Meta:
        model = Authority
        fields: ClassVar = [
            "name", "phone", "email", "permit_days", "permit_days_from", "source",
            "inspection_notes",
        ]  # fmt: skip
        widgets: ClassVar = {"phone": PhoneInput}
        help_texts: ClassVar = {
            "permit_days": _(
                "Without work or an inspection, after this a permit is no longer good."
            ),
            "source": _(
                "Such as “Building Code of the town, section 105.5”, so that it can be checked."
            ),
        }


class UtilityForm(forms.ModelForm):
    class Meta:
        model = Utility
        fields: ClassVar = ["name", "phone", "notes"]
        widgets: ClassVar = {"phone": PhoneInput}


class CertificateKindForm(forms.ModelForm):
    class Meta:
        model = CertificateKind
        fields: ClassVar = ["name"]
        help_texts: ClassVar = {"name": _("Such as “battery storage” or “rough-terrain lift”.")}
