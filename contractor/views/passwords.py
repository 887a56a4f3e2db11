"""A new password for who forgot theirs, or who was just invited: by a mailed link."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.views import PasswordResetConfirmView
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse_lazy
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache

from contractor.access import open_to_all
from contractor.forms.attempt import attempt, page
from contractor.forms.sign_in import ForgottenForm, SetPasswordForm
from contractor.guesses import Guesses
from contractor.models import PasswordLetter
from contractor.services.letters import owe_letter
from contractor.sign_in import address

ASKED = Guesses("forgotten-passwords", limit=10, minutes=60)


@open_to_all
@never_cache
def forgotten(request: HttpRequest) -> HttpResponse:
    """The same answer whether or not anyone here has the address."""
    form = ForgottenForm(request.POST or None)
    if attempt(form, lambda typed: _owe(request, typed["email"])) is None:
        return page(request, "contractor/password_forgotten.html", form)
    return redirect("password-sent")


def _owe(request: HttpRequest, email: str) -> bool:
    ASKED.check(address(request))
    ASKED.count(address(request))
    owe_letter(email=email, why=PasswordLetter.Why.FORGOTTEN, now=timezone.now())
    return True


@open_to_all
def sent(request: HttpRequest) -> HttpResponse:
    return render(request, "contractor/password_sent.html")


class SetPassword(PasswordResetConfirmView):
    """The link itself: checked, then moved out of the address into the session."""

    form_class = SetPasswordForm  # type: ignore[assignment]  # made for our own Person
    template_name = "contractor/password_set.html"
    success_url = reverse_lazy("sign-in")

    def form_valid(self, form: Any) -> HttpResponse:
        answer = super().form_valid(form)
        messages.success(self.request, _("Your password is set. Sign in with it."))
        return answer

    def render_to_response(self, context: dict[str, Any], **kwargs: Any) -> HttpResponse:
        form = context.get("form")
        failed = not context["validlink"] or (form is not None and bool(form.errors))
        return super().render_to_response(context, status=422 if failed else 200, **kwargs)


set_password = open_to_all(SetPassword.as_view())
