"""Putting a crew on a visit: what it would mean, then the deed, then a way back."""

from __future__ import annotations

import datetime as dt
from functools import partial
from typing import Any

from django.core import signing
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from contractor.access import Right, SignedIn, fetch, needs
from contractor.errors import Refused
from contractor.notices import say
from contractor.ways_back import back_to, came_from
from jobs import queries, services
from jobs.forms.planning import PlanForm
from jobs.models import Visit
from jobs.plan_page import Consequence, consequence
from jobs.views.filling import blank, day_named, trail

SALT = "visit.plan"


@needs(Right.OFFICE)
def visit_plan(request: SignedIn, pk: str) -> HttpResponse:
    """GET shows the blank; POST with `check` says what it would mean; POST plans."""
    visit = _the_visit(request, pk)
    form = blank(
        request,
        PlanForm,
        visit=visit,
        zone=visit.job.site.zone,
        initial=_start_with(request, visit),
    )
    checking = "check" in request.POST
    if request.method == "POST" and form.is_valid() and not checking and _planned(request, form):
        return redirect(back_to(request, reverse("job", args=[visit.job_id])))
    meant = consequence(form, person=request.user, now=timezone.now())
    if checking and request.htmx:
        return render(request, "jobs/_consequence.html", {"meant": meant, "form": form})
    status = 422 if form.errors and not checking else 200
    return render(request, "jobs/plan.html", _page(request, form, meant), status=status)


def _the_visit(request: SignedIn, pk: str) -> Visit:
    rows = Visit.objects.select_related("job__site__customer", "crew", "certificate_needed")
    return fetch(rows, request.user, pk=pk)


def _start_with(request: SignedIn, visit: Visit) -> dict[str, Any]:
    """Where it stands now; else what the link named; else tomorrow at the day's beginning."""
    zone, asked = visit.job.site.zone, request.GET
    starts = visit.starts_at.astimezone(zone) if visit.starts_at else None
    ends = visit.ends_at.astimezone(zone) if visit.ends_at else None
    tomorrow = timezone.localdate() + dt.timedelta(days=1)
    return {
        "crew": asked.get("crew") or visit.crew_id,
        "day": day_named(asked.get("day", "")) or (starts.date() if starts else tomorrow),
        "starts": starts.time() if starts else dt.time(8),
        "ends": ends.time() if ends else None,
        "people": _unusual_people(visit),
        "rev": visit.rev,
    }


def _unusual_people(visit: Visit) -> list[Any]:
    """Who is on it, unless they are just the crew's usual people."""
    on_it = {row.person_id for row in visit.assignments.all()}
    usual = {person.pk for person in visit.crew.people.all()} if visit.crew else set()
    return [] if on_it == usual else list(on_it)


def _planned(request: SignedIn, form: PlanForm) -> bool:
    visit = form.visit
    before = services.plan_of(visit)
    if not form.try_to(
        partial(services.assign_crew, visit=visit, by=request.user, now=timezone.now())
    ):
        return False
    words = _("%(visit)s is planned.") if not before else _("%(visit)s is moved.")
    say(request, words % {"visit": form.result}, undo=restore_url(form.result, before))
    return True


def restore_url(visit: Visit, plan: dict[str, Any]) -> str:
    """The address that puts the visit back; good only while nobody has changed it since."""
    signed = signing.dumps({"plan": plan, "rev": visit.rev}, salt=SALT, compress=True)
    return f"{reverse('visit-restore', args=[visit.pk])}?{urlencode({'was': signed})}"


def _page(request: SignedIn, form: PlanForm, meant: Consequence) -> dict[str, Any]:
    visit = form.visit
    return {
        "form": form,
        "visit": visit,
        "job": visit.job,
        "meant": meant,
        "cells": [(_("Job"), visit.job.number), (_("Customer"), visit.job.site.customer)],
        "holds": [queries.waiting_for(hold) for hold in queries.open_holds(visit)],
        "back": back_to(request, reverse("job", args=[visit.job_id])),
        "trail": [*trail(visit.job), (visit.name, "")],
    }


@require_POST
@needs(Right.OFFICE)
def visit_unplan(request: SignedIn, pk: str) -> HttpResponse:
    visit = _the_visit(request, pk)
    before = services.plan_of(visit)
    visit = services.unassign(visit=visit, by=request.user, now=timezone.now())
    words = _("%(visit)s is off the plan.") % {"visit": visit}
    say(request, words, undo=restore_url(visit, before) if before else None)
    return redirect(back_to(request, reverse("job", args=[visit.job_id])))


@require_POST
@needs(Right.OFFICE)
def visit_restore(request: SignedIn, pk: str) -> HttpResponse:
    visit = _the_visit(request, pk)
    try:
        was = signing.loads(request.GET.get("was", ""), salt=SALT, max_age=24 * 3600)
    except signing.BadSignature as error:
        raise Refused("undo_unreadable", _("This can no longer be undone.")) from error
    services.restore_plan(
        visit=visit, plan=was["plan"], rev=was["rev"], by=request.user, now=timezone.now()
    )
    say(request, _("%(visit)s is back as it was.") % {"visit": visit})
    return redirect(came_from(request, reverse("job", args=[visit.job_id])))
