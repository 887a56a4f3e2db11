"""From an empty firm to the first owner, and what to do then."""

from __future__ import annotations

from django.contrib.auth import login
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters

from contractor import queries
from contractor.access import Right, SignedIn, needs, open_to_all
from contractor.forms.attempt import attempt, page
from contractor.forms.begin import BeginForm
from contractor.guesses import Guesses
from contractor.models import Person
from contractor.queries.start import tasks
from contractor.services import accounts
from contractor.sign_in import MODEL_BACKEND, address

SETUP_CODES = Guesses("set-up-codes", limit=10, minutes=15)


@open_to_all
@never_cache
@sensitive_post_parameters("password", "setup_code")
def begin(request: HttpRequest) -> HttpResponse:
    """Open only while there is nobody: whoever fills it in becomes the owner."""
    if Person.objects.exists():
        return redirect("home")
    SETUP_CODES.check(address(request))
    form = BeginForm(request.POST or None)
    owner = attempt(form, lambda values: accounts.begin_firm(**values, now=timezone.now()))
    if owner is None:
        if "setup_code" in form.errors:
            SETUP_CODES.count(address(request))
        return page(request, "contractor/begin.html", form)
    login(request, owner, backend=MODEL_BACKEND)
    return redirect("start")


@needs(Right.OFFICE)
def start(request: SignedIn) -> HttpResponse:
    """What is done and what is still to do before the first job."""
    listed = tasks(queries.firm())
    todo = next((task for task in listed if not task.done and not task.optional), None)
    done = sum(task.done for task in listed)
    return render(request, "contractor/start.html", {"tasks": listed, "next": todo, "done": done})
