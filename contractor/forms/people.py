"""People, what they hold, when they are away, and their crews."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.forms.firm import state_field
from contractor.forms_rendering import Choices, DayInput, PhoneInput, Segmented, Ticks
from contractor.models import Absence, Certificate, Crew, Licence, Person, Role

MAY = {
    Role.TECHNICIAN: _("technician: own visits and crew’s visits, panels, close-out"),
    Role.COORDINATOR: _("office coordinator: everything but the firm’s settings"),
    Role.OWNER: _("owner: everything"),
}


class PersonForm(forms.ModelForm):
    invite = forms.BooleanField(
        label=_("Send a mail with which to set a password"), required=False, initial=True
    )

    class Meta:
        model = Person
        fields: ClassVar = ["name", "email", "phone", "role", "is_active"]
        widgets: ClassVar = {"phone": PhoneInput, "role": Choices}
        help_texts: ClassVar = {
            "email": _("They sign in with it."),
            "is_active": _("Without this tick they are signed out at once, on every device."),
        }

    def __init__(self, *args: Any, by: Person, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        roles = [role for role in MAY if role != Role.OWNER or by.is_owner]
        self.fields["role"].choices = [(role.value, MAY[role]) for role in roles]
        del self.fields["invite" if self.instance.pk and self.instance.email else "is_active"]


class LicenceForm(forms.ModelForm):
    state = state_field()

    class Meta:
        model = Licence
        fields: ClassVar = ["grade", "number", "state", "expires_on"]
        widgets: ClassVar = {"expires_on": DayInput}
        help_texts: ClassVar = {"expires_on": _("Empty: it does not end.")}


class CertificateForm(forms.ModelForm):
    class Meta:
        model = Certificate
        fields: ClassVar = ["kind", "number", "expires_on"]
        widgets: ClassVar = {"expires_on": DayInput}
        help_texts: ClassVar = {"expires_on": _("Empty: it does not end.")}


class AbsenceForm(forms.ModelForm):
    class Meta:
        model = Absence
        fields: ClassVar = ["first_day", "last_day", "reason", "note"]
        widgets: ClassVar = {"first_day": DayInput, "last_day": DayInput, "reason": Segmented}


class CrewForm(forms.ModelForm):
    people = forms.ModelMultipleChoiceField(
        label=_("People"),
        queryset=Person.objects.filter(is_active=True),
        widget=Ticks,
        required=False,
    )

    class Meta:
        model = Crew
        fields: ClassVar = ["name", "vehicle", "people", "lead", "is_active"]
        help_texts: ClassVar = {"lead": _("One of the people of the crew.")}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["lead"].queryset = Person.objects.filter(is_active=True)
        if self.instance.pk:
            self.fields["people"].initial = self.instance.people.all()
        else:
            del self.fields["is_active"]
