"""Coming in and going out."""

from __future__ import annotations

import datetime as dt

from django.contrib import messages
from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, resolve_url
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST
from django_otp import login as remember_code

from contractor import ways_back
from contractor.access import open_to_all
from contractor.forms.attempt import attempt, page
from contractor.forms.sign_in import CodeForm, SignInForm
from contractor.models import Person
from contractor.services import second_factor
from contractor.sign_in import MODEL_BACKEND, recognise

WAITING = "waiting for a code"
WAITS = dt.timedelta(minutes=10)


@open_to_all
@never_cache
@sensitive_post_parameters("password")
def sign_in(request: HttpRequest) -> HttpResponse:
    if not Person.objects.exists():
        return redirect("begin")
    if request.user.is_authenticated:
        return redirect(_onward(request))
    form = SignInForm(request.POST or None)
    if form.is_bound and form.is_valid():
        typed = form.cleaned_data
        person = recognise(request, email=typed["username"], password=typed["password"])
        if person is not None:
            return _let_in(request, person)
        form.add_error(None, _("E-mail and password do not fit together. Try again."))
    return page(request, "contractor/sign_in.html", form, next=request.GET.get("next", ""))


@open_to_all
@never_cache
@sensitive_post_parameters("code")
def code(request: HttpRequest) -> HttpResponse:
    """The second step: the password was right, now the code from the phone."""
    person = _waiting(request)
    if person is None:
        messages.error(request, _("That took too long. Sign in again."))
        return redirect("sign-in")
    form = CodeForm(request.POST or None)
    source = attempt(form, lambda typed: second_factor.check(person=person, code=typed["code"]))
    if source is None:
        return page(request, "contractor/sign_in_code.html", form)
    onward = request.session.pop(WAITING)["next"]
    login(request, person, backend=MODEL_BACKEND)
    remember_code(request, source)
    return redirect(onward)


@open_to_all
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    logout(request)
    messages.success(request, _("You are signed out."))
    return redirect("sign-in")


def _let_in(request: HttpRequest, person: Person) -> HttpResponse:
    if not second_factor.is_on(person):
        login(request, person, backend=MODEL_BACKEND)
        return redirect(_onward(request))
    until = timezone.now() + WAITS
    request.session[WAITING] = {
        "person": str(person.pk),
        "round": person.get_session_auth_hash(),
        "until": until.isoformat(),
        "next": _onward(request),
    }
    return redirect("sign-in-code")


def _waiting(request: HttpRequest) -> Person | None:
    """Who gave the right password in this browser a moment ago."""
    kept = request.session.get(WAITING)
    if kept is None or dt.datetime.fromisoformat(kept["until"]) < timezone.now():
        return None
    person = Person.objects.filter(pk=kept["person"], is_active=True).first()
    return person if person and person.get_session_auth_hash() == kept["round"] else None


def _onward(request: HttpRequest) -> str:
    """Where they were going, if that is one of our own pages."""
    return ways_back.back_to(request, resolve_url("home"))
