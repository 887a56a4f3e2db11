"""The technician's day, a visit, and what is said from it: here, leaving, seen."""

from __future__ import annotations

import datetime as dt
from functools import partial
from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_POST

from contractor.access import Right, SignedIn, fetch, needs
from contractor.models import Person
from contractor.notices import say
from jobs.day_notes import day_notes
from jobs.forms.field import NoteForm, RevisionForm, TimesForm, WhoseDayForm
from jobs.models import Visit
from jobs.pages import way
from jobs.planning.words import said
from jobs.queries.day import day_of, next_stop
from jobs.queries.visit import VisitPage, visit_page, visits
from jobs.services import field
from jobs.views.filling import Trail, day_named

ONE_DAY = dt.timedelta(days=1)


@require_GET
@needs(Right.FIELD)
def day(request: SignedIn) -> HttpResponse:
    form = WhoseDayForm(request.GET or None)
    asked = form.cleaned_data if form.is_valid() else {}
    person = _whose(request, asked.get("person"))
    today = timezone.localdate()
    on = day_named(str(asked.get("on"))) or today
    page = {
        "person": person,
        "is_own": person == request.user,
        "on": on,
        "today": today,
        "before": on - ONE_DAY,
        "after": on + ONE_DAY,
        "stops": day_of(person, on),
        "next": next_stop(person, after=on, zone=timezone.get_current_timezone()),
        "notes": day_notes(person) if person == request.user else [],
        "cells": [(_("For"), person.name)],
        "whose": WhoseDayForm(initial={"on": on, "person": person}),
    }
    return render(request, "jobs/field/day.html", page)


def _whose(request: SignedIn, person: Person | None) -> Person:
    """Their own; the office looks at anyone's."""
    if person is None or person == request.user:
        return request.user
    if not request.user.is_office:
        raise Http404
    return person


@require_GET
@needs(Right.FIELD)
def visit(request: SignedIn, pk: str) -> HttpResponse:
    return _page(request, fetch(visits(), request.user, pk=pk))


def _page(request: SignedIn, found: Visit, note: NoteForm | None = None) -> HttpResponse:
    page = visit_page(found, request.user)
    initial = {"text": found.notes, "rev": found.rev}
    context = {
        "page": page,
        "visit": found,
        "job": found.job,
        "site": found.job.site,
        "steps": way(found.job),
        "note": note or NoteForm(initial=initial),
        "trail": trail(found),
        "cells": _cells(page),
        "is_its_day": _is_its_day(found),
    }
    status = 422 if note is not None else 200
    return render(request, "jobs/field/visit.html", context, status=status)


def _is_its_day(found: Visit) -> bool:
    """Today or, if it was forgotten, before: what is planned for later cannot be begun."""
    if found.starts_at is None:
        return False
    zone = found.job.site.zone
    return found.starts_at.astimezone(zone).date() <= timezone.localdate(timezone=zone)


def trail(found: Visit) -> Trail:
    day_url = reverse("day")
    if found.starts_at:
        day_url += f"?on={found.starts_at.astimezone(found.job.site.zone).date()}"
    return [(_("Day"), day_url), (str(found), "")]


def _cells(page: VisitPage) -> list[tuple[str, Any]]:
    found, zone = page.visit, page.visit.job.site.zone
    span = [moment.astimezone(zone) for moment in (found.starts_at, found.ends_at) if moment]
    permit = next((row.number for row in page.permits if row.number), "")
    return [
        (_("Job"), found.job.number),
        (_("Planned"), said(*span) if span else _("not planned")),
        (_("Crew"), found.crew or ""),
        (_("Permit"), permit),
    ]


def _act(request: SignedIn, pk: str, service: Any, **more: Any) -> Visit:
    """Run one of the services on the visit, on the revision the page showed."""
    found = fetch(Visit.objects.select_related("job__site"), request.user, pk=pk)
    form = RevisionForm(request.POST)
    rev = form.cleaned_data["rev"] if form.is_valid() else None
    done: Visit = service(visit=found, by=request.user, rev=rev, **more)
    return done


@require_POST
@needs(Right.FIELD)
def arrive(request: SignedIn, pk: str) -> HttpResponse:
    found = _act(request, pk, field.arrive, now=timezone.now())
    undo = reverse("visit-not-here", args=[pk])
    say(request, _("You are on site since %(time)s") % {"time": _clock(found)}, undo=undo)
    return redirect("visit", pk)


def _clock(found: Visit) -> str:
    moment = found.left_at or found.arrived_at
    return said(moment.astimezone(found.job.site.zone).time()) if moment else ""


@require_POST
@needs(Right.FIELD)
def leave(request: SignedIn, pk: str) -> HttpResponse:
    found = _act(request, pk, field.leave, now=timezone.now())
    undo = reverse("visit-still-here", args=[pk])
    told = _("%(visit)s is done, left at %(time)s")
    say(request, told % {"visit": found.name, "time": _clock(found)}, undo=undo)
    return redirect("visit", pk)


@require_POST
@needs(Right.FIELD)
def not_here(request: SignedIn, pk: str) -> HttpResponse:
    _act(request, pk, field.take_back_arrival)
    say(request, _("Taken back: nobody has arrived yet."))
    return redirect("visit", pk)


@require_POST
@needs(Right.FIELD)
def still_here(request: SignedIn, pk: str) -> HttpResponse:
    _act(request, pk, field.take_back_leaving)
    say(request, _("Taken back: the visit is still under way."))
    return redirect("visit", pk)


@needs(Right.FIELD)
def times(request: SignedIn, pk: str) -> HttpResponse:
    found = fetch(Visit.objects.select_related("job__site"), request.user, pk=pk)
    zone = found.job.site.zone
    start = {name: getattr(found, name) for name in ("arrived_at", "left_at")}
    start = {name: moment and moment.astimezone(zone) for name, moment in start.items()}
    form = TimesForm(request.POST or None, zone=zone, initial={**start, "rev": found.rev})
    act = partial(field.correct_times, visit=found, by=request.user, now=timezone.now())
    if request.method == "POST" and form.is_valid() and form.try_to(act):
        say(request, _("The times are as you said."))
        return redirect("visit", pk)
    page = {"form": form, "visit": found, "trail": [*trail(found), (_("Times"), "")]}
    return render(request, "jobs/field/times.html", page, status=422 if form.errors else 200)


@require_POST
@needs(Right.FIELD)
def note(request: SignedIn, pk: str) -> HttpResponse:
    found = fetch(visits(), request.user, pk=pk)
    form = NoteForm(request.POST)
    if form.is_valid() and form.try_to(partial(field.note, visit=found, by=request.user)):
        say(request, _("The notes are saved."))
        return redirect("visit", pk)
    return _page(request, found, form)
