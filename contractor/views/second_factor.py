"""The code from the phone: set it up, renew the recovery codes, take it off."""

from __future__ import annotations

import base64

import segno
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django_otp import login as remember_code
from django_otp.plugins.otp_totp.models import TOTPDevice

from contractor.access import Right, SignedIn, needs
from contractor.forms.attempt import attempt, page
from contractor.forms.sign_in import ConfirmCodeForm, PasswordForm
from contractor.models import Person
from contractor.services import second_factor


@needs(Right.SIGNED_IN)
@never_cache
def scan(request: SignedIn) -> HttpResponse:
    """The picture to scan, and the first code made from it."""
    person: Person = request.user
    if second_factor.is_on(person):
        return redirect("account")
    waiting = second_factor.start(person=person)
    form = ConfirmCodeForm(request.POST or None)
    codes = attempt(form, lambda typed: second_factor.confirm(person=person, code=typed["code"]))
    if codes is None:
        secret = _in_fours(waiting)
        picture = _picture(waiting.config_url)
        return page(request, "contractor/code_scan.html", form, picture=picture, secret=secret)
    update_session_auth_hash(request, person)
    remember_code(request, TOTPDevice.objects.get(user=person, confirmed=True))
    return render(request, "contractor/recovery_codes.html", {"codes": codes, "is_new": True})


@needs(Right.SIGNED_IN)
@never_cache
def renew(request: SignedIn) -> HttpResponse:
    if not second_factor.is_on(request.user):
        return redirect("account")
    form = PasswordForm(request.POST or None, person=request.user)
    codes = attempt(form, lambda _typed: second_factor.renew_recovery_codes(person=request.user))
    if codes is None:
        title = _("New recovery codes")
        return page(request, "contractor/account_form.html", form, title=title)
    return render(request, "contractor/recovery_codes.html", {"codes": codes})


@needs(Right.SIGNED_IN)
@never_cache
def turn_off(request: SignedIn) -> HttpResponse:
    form = PasswordForm(request.POST or None, person=request.user)
    if attempt(form, lambda _typed: second_factor.turn_off(person=request.user) or True):
        messages.success(request, _("You sign in without a code from now on."))
        return redirect("account")
    title = _("Sign in without a code")
    return page(request, "contractor/account_form.html", form, title=title, is_danger=True)


def _picture(address: str) -> SafeString:
    """A QR code as SVG, dark on white in every light so that a phone can read it."""
    code = segno.make(address, error="m", micro=False)
    return mark_safe(code.svg_inline(scale=5, border=4, dark="#000", light="#fff"))  # noqa: S308 - made of squares


def _in_fours(waiting: TOTPDevice) -> str:
    """The secret in groups of four, for typing it in where nothing can be scanned (RFC 4648)."""
    secret = base64.b32encode(waiting.bin_key).decode().rstrip("=")
    return " ".join(secret[place : place + 4] for place in range(0, len(secret), 4))
