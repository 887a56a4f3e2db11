"""Coming in: password, then the code where one is set up; a new password by mail."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.password_validation import validate_password
from django.utils.translation import gettext_lazy as _

from contractor.models import Person
from contractor.models.fields import normal_email
from contractor.services.accounts import set_password
from contractor.sign_in import forgive

CODE_INPUT = forms.TextInput(
    {
        "autocomplete": "one-time-code",
        "inputmode": "numeric",
        "autofocus": True,
        "spellcheck": "false",
        "autocapitalize": "none",
    }
)


class SignInForm(forms.Form):
    not_done = _("Not signed in")
    username = forms.CharField(
        label=_("E-mail"),
        max_length=254,
        widget=forms.EmailInput({"autocomplete": "username", "autofocus": True}),
    )
    password = forms.CharField(
        label=_("Password"),
        strip=False,
        max_length=256,
        widget=forms.PasswordInput({"autocomplete": "current-password"}),
    )


class CodeForm(forms.Form):
    not_done = _("Not signed in")
    code = forms.CharField(
        label=_("Code"),
        max_length=20,
        widget=CODE_INPUT,
        help_text=_("Six digits from your phone, or one of your recovery codes."),
    )


class ConfirmCodeForm(forms.Form):
    not_done = _("Not switched on yet")
    code = forms.CharField(
        label=_("Code from your phone"),
        max_length=10,
        widget=CODE_INPUT,
        help_text=_("The six digits your phone shows now."),
    )


class ForgottenForm(forms.Form):
    not_done = _("Not sent yet")
    email = forms.CharField(
        label=_("E-mail"),
        max_length=254,
        widget=forms.EmailInput({"autocomplete": "username", "autofocus": True}),
    )

    def clean_email(self) -> str:
        return normal_email(self.cleaned_data["email"])


class NewPasswordForm(forms.Form):
    """One field: what is typed can be looked at, and a typing error is mended by mail."""

    new_password = forms.CharField(
        label=_("New password"),
        strip=False,
        max_length=256,
        widget=forms.PasswordInput({"autocomplete": "new-password", "autofocus": True}),
        help_text=_("Twelve characters or more. A few words in a row are good and easy to keep."),
    )


class SetPasswordForm(NewPasswordForm):
    """For who came by the mailed link, and so needs no present password."""

    def __init__(self, user: Person | None, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.person = user

    def clean_new_password(self) -> str:
        password: str = self.cleaned_data["new_password"]
        validate_password(password, self.person)
        return password

    def save(self) -> Person | None:
        if self.person is not None:
            set_password(person=self.person, password=self.cleaned_data["new_password"])
            forgive(email=self.person.email)
        return self.person


class PasswordForm(forms.Form):
    """Say once more that it is you."""

    password = forms.CharField(
        label=_("Your password"),
        strip=False,
        max_length=256,
        widget=forms.PasswordInput({"autocomplete": "current-password"}),
    )

    def __init__(self, *args: Any, person: Person, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.person = person

    def clean_password(self) -> str:
        password: str = self.cleaned_data["password"]
        if not self.person.check_password(password):
            raise forms.ValidationError(_("This is not your password."), code="password_wrong")
        return password


class ChangePasswordForm(NewPasswordForm, PasswordForm):
    """The present password, then the new one."""

    field_order = ["password", "new_password"]
