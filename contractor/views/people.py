"""Who works here: the list, each person, and the crews."""

from __future__ import annotations

import uuid
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from contractor import access
from contractor.access import Right, SignedIn, needs
from contractor.forms.attempt import attempt, page
from contractor.forms.people import CrewForm, PersonForm
from contractor.models import Crew, Person
from contractor.queries import people as queries
from contractor.services import crews, second_factor
from contractor.services import people as services


@needs(Right.PEOPLE)
def people(request: SignedIn) -> HttpResponse:
    today = timezone.localdate()
    gone = request.GET.get("gone") == "1"
    listed = [
        {"person": person, "papers": queries.papers(person, today)}
        for person in queries.people(active=not gone)
    ]
    context = {"people": listed, "crews": queries.crews(), "gone": gone, "today": today}
    return render(request, "contractor/people.html", context)


@needs(Right.PEOPLE)
def person(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Person, pk=pk)
    today = timezone.localdate()
    context = {
        "person": found,
        "papers": queries.papers(found, today),
        "absences": queries.absences(found, today),
        "crews": Crew.objects.filter(people=found),
        "may_change": access.may_change_person(request.user, found),
        "code_is_on": second_factor.is_on(found),
    }
    return render(request, "contractor/person.html", context)


@needs(Right.PEOPLE)
def add_person(request: SignedIn) -> HttpResponse:
    form = PersonForm(request.POST or None, by=request.user)
    added = attempt(form, lambda values: _add(request, values))
    if added is None:
        return page(request, "contractor/person_form.html", form)
    mailed = form.cleaned_data["invite"]
    told = (
        _("%s is added, and gets a mail with which to set a password.")
        if mailed
        else _("%s is added.")
    )
    messages.success(request, told % added)
    return redirect("person", added.pk)


def _add(request: SignedIn, values: dict[str, Any]) -> Person:
    invited = values.pop("invite")
    return services.add_person(values=values, by=request.user, now=timezone.now(), invite=invited)


@needs(Right.PEOPLE)
def change_person(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Person, pk=pk)
    form = PersonForm(request.POST or None, instance=found, by=request.user)
    by, now = request.user, timezone.now()
    if attempt(
        form, lambda values: services.change_person(person=found, values=values, by=by, now=now)
    ):
        messages.success(request, _("%s is saved.") % found)
        return redirect("person", pk)
    shown = Person.objects.get(pk=pk)
    return page(request, "contractor/person_form.html", form, person=shown)


@needs(Right.PEOPLE)
@require_POST
def invite(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Person, pk=pk)
    services.invite(person=found, by=request.user, now=timezone.now())
    messages.success(request, _("A mail with which to set a password is on its way to %s.") % found)
    return redirect("person", pk)


@needs(Right.FIRM)
def code_off(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    """The phone is lost and the recovery codes with it: an owner opens the door once more."""
    found = get_object_or_404(Person, pk=pk)
    if request.method == "POST":
        second_factor.let_in_without(person=found, by=request.user)
        messages.success(request, _("%s signs in without a code now.") % found)
        return redirect("person", pk)
    lines = [
        _("Speak to them first: whoever has their password then gets in without the phone."),
        _("Every browser and device of theirs is signed out."),
    ]
    context = {"what": _("Let %s in without a code?") % found, "lines": lines, "is_danger": True}
    context |= {"action": _("Take the code off"), "back": reverse("person", args=[pk])}
    return render(request, "contractor/confirm.html", context)


@needs(Right.PEOPLE)
def crew(request: SignedIn, pk: int | None = None) -> HttpResponse:
    found = get_object_or_404(Crew, pk=pk) if pk else Crew()
    form = CrewForm(request.POST or None, instance=found)
    if attempt(form, lambda values: _save_crew(request, found, values)):
        messages.success(request, _("%s is saved.") % found)
        return redirect("people")
    return page(request, "contractor/crew_form.html", form, crew=found)


def _save_crew(request: SignedIn, found: Crew, values: dict[str, Any]) -> Crew:
    members = list(values.pop("people"))
    return crews.save_crew(crew=found, values=values, people=members, by=request.user)
