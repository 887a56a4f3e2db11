"""What a person keeps of themselves: name, password, devices."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST

from contractor.access import Right, SignedIn, needs
from contractor.forms.account import DeviceForm, OwnDetailsForm
from contractor.forms.attempt import attempt, page
from contractor.forms.sign_in import ChangePasswordForm
from contractor.models import Device, Person
from contractor.services import accounts, second_factor


@needs(Right.SIGNED_IN)
def account(request: SignedIn) -> HttpResponse:
    context = {
        "code_is_on": second_factor.is_on(request.user),
        "codes_left": second_factor.recovery_codes_left(request.user),
        "devices": Device.objects.filter(user=request.user),
    }
    return render(request, "contractor/account.html", context)


@needs(Right.SIGNED_IN)
def details(request: SignedIn) -> HttpResponse:
    person = Person.objects.get(pk=request.user.pk)
    form = OwnDetailsForm(request.POST or None, instance=person)
    by = request.user
    if attempt(form, lambda values: accounts.change_own_details(by=by, values=values)):
        messages.success(request, _("Your details are saved."))
        return redirect("account")
    return page(request, "contractor/account_form.html", form, title=_("Your details"))


@needs(Right.SIGNED_IN)
@never_cache
@sensitive_post_parameters("password", "new_password")
def password(request: SignedIn) -> HttpResponse:
    form = ChangePasswordForm(request.POST or None, person=request.user)
    if attempt(form, lambda typed: _new_password(request, typed)):
        messages.success(request, _("Your new password is set. Other browsers are signed out."))
        return redirect("account")
    return page(request, "contractor/account_form.html", form, title=_("Change your password"))


def _new_password(request: SignedIn, typed: dict[str, Any]) -> Person:
    person = accounts.set_password(person=request.user, password=typed["new_password"])
    update_session_auth_hash(request, person)
    return person


@needs(Right.SIGNED_IN)
@require_POST
def elsewhere(request: SignedIn) -> HttpResponse:
    """Sign out every browser but this one."""
    accounts.end_other_sessions(person=request.user)
    update_session_auth_hash(request, request.user)
    messages.success(request, _("Every other browser is signed out."))
    return redirect("account")


@needs(Right.SIGNED_IN)
@never_cache
def add_device(request: SignedIn) -> HttpResponse:
    """A token for a phone or program, shown this once."""
    form = DeviceForm(request.POST or None)
    made = attempt(form, lambda typed: accounts.add_device(person=request.user, name=typed["name"]))
    if made is None:
        return page(request, "contractor/account_form.html", form, title=_("Add a device"))
    device, token = made
    return render(request, "contractor/device_token.html", {"device": device, "token": token})


@needs(Right.SIGNED_IN)
def revoke_device(request: SignedIn, token_key: str) -> HttpResponse:
    device = Device.objects.filter(user=request.user, token_key=token_key).first()
    if device is None:
        messages.info(request, _("This device is not signed in any more."))
        return redirect("account")
    if request.method == "POST":
        accounts.revoke_device(person=request.user, token_key=token_key)
        messages.success(request, _("“%s” is signed out.") % device.name)
        return redirect("account")
    return render(request, "contractor/confirm.html", _sign_out_question(device))


def _sign_out_question(device: Device) -> dict[str, Any]:
    return {
        "what": _("Sign out “%s”?") % device.name,
        "lines": [_("Its next request is refused. To use it again, add it as a new device.")],
        "action": _("Sign it out"),
        "back": "..",
        "is_danger": True,
    }
