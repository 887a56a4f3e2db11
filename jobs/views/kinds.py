"""Job kinds as the firm edits them, part by part."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django import forms
from django.db.models import Count
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_GET, require_POST

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms.attempt import attempt
from contractor.forms.attempt import page as form_page
from contractor.notices import say
from jobs import queries
from jobs.forms.kinds import (
    KindForm,
    KindHoldForm,
    KindInspectionForm,
    KindLineForm,
    KindVisitForm,
    PartForm,
)
from jobs.models import JobKind, KindCloseOut, KindHold, KindInspection, KindVisit
from jobs.services import kinds as services
from jobs.views.filling import Trail, ask_first, blank


@dataclass(frozen=True)
class PartKind:
    """One sort of part: its rows, its form, what it is called."""

    model: Any
    form: type[PartForm]
    one: Any


PARTS = {
    "visit": PartKind(KindVisit, KindVisitForm, _("a visit")),
    "hold": PartKind(KindHold, KindHoldForm, _("a hold")),
    "inspection": PartKind(KindInspection, KindInspectionForm, _("an inspection")),
    "line": PartKind(KindCloseOut, KindLineForm, _("a close-out line")),
}


def trail(kind: JobKind | None = None) -> Trail:
    kinds: Trail = [(_("Job kinds"), reverse("kinds"))]
    return [*kinds, (kind.name, reverse("kind", args=[kind.pk]))] if kind else kinds


@require_GET
@needs(Right.OFFICE)
def kinds(request: SignedIn) -> HttpResponse:
    rows = JobKind.objects.annotate(booked=Count("jobs")).prefetch_related("visits", "inspections")
    return render(request, "jobs/kinds.html", {"kinds": rows.order_by("-is_active", "name")})


@require_GET
@needs(Right.OFFICE)
def kind(request: SignedIn, pk: int) -> HttpResponse:
    rows = JobKind.objects.prefetch_related(
        "visits__holds__inspection", "visits__certificate_needed", "inspections__after", "close_out"
    )
    found = fetch(rows, request.user, pk=pk)
    booked, offered = found.jobs.count(), _("yes") if found.is_active else _("no")
    page = {
        "kind": found,
        "visits": [
            (visit, [(hold, queries.waiting_for(hold)) for hold in visit.holds.all()])
            for visit in found.visits.all()
        ],
        "trail": [*trail(), (found.name, "")],
        "booked": booked,
        "cells": [
            (_("Offered"), offered),
            (_("Permit"), _("needed") if found.needs_permit else _("not needed")),
            (_("Jobs"), booked),
        ],
    }
    return render(request, "jobs/kind.html", page)


@needs(Right.OFFICE)
def kind_new(request: SignedIn) -> HttpResponse:
    return _kind_form(request, JobKind(), _("A new kind of job"))


@needs(Right.OFFICE)
def kind_change(request: SignedIn, pk: int) -> HttpResponse:
    found = fetch(JobKind, request.user, pk=pk)
    return _kind_form(request, found, _("Change “%(kind)s”") % {"kind": found.name})


def _kind_form(request: SignedIn, found: JobKind, what: Any) -> HttpResponse:
    form = blank(request, KindForm, instance=found)
    saved = attempt(form, lambda _said: services.save_kind(kind=form.instance, by=request.user))
    if saved:
        say(request, _("Kept. Jobs already booked stay as they are."))
        return redirect("kind", saved.pk)
    back = reverse("kind", args=[found.pk]) if found.pk else reverse("kinds")
    return _blank_page(request, form, what, back, trail(found if found.pk else None))


def _blank_page(
    request: SignedIn, form: forms.BaseForm, what: Any, back: str, way: Trail
) -> HttpResponse:
    return form_page(
        request, "jobs/fill_in.html", form, what=what, back=back, trail=[*way, (what, "")]
    )


@needs(Right.OFFICE)
def kind_remove(request: SignedIn, pk: int) -> HttpResponse:
    found = fetch(JobKind, request.user, pk=pk)
    if request.method == "POST":
        services.remove_kind(kind=found, by=request.user)
        say(request, _("“%(kind)s” is removed.") % {"kind": found.name})
        return redirect("kinds")
    what = _("Remove the kind “%(kind)s”?") % {"kind": found.name}
    lines = [_("Its visits, holds, inspections and close-out lines go too.")]
    return ask_first(request, what, lines=lines, back=reverse("kind", args=[pk]))


def _sort(name: str) -> PartKind:
    if name not in PARTS:
        raise Http404
    return PARTS[name]


def _part(request: SignedIn, sort: str, pk: int) -> tuple[Any, JobKind]:
    part = fetch(_sort(sort).model, request.user, pk=pk)
    return part, part.visit.kind if sort == "hold" else part.kind


@needs(Right.OFFICE)
def part_new(request: SignedIn, pk: int, sort: str) -> HttpResponse:
    found, sort_of = fetch(JobKind, request.user, pk=pk), _sort(sort)
    what = _("%(kind)s: add %(part)s") % {"kind": found.name, "part": sort_of.one}
    return _part_form(request, sort_of, sort_of.model(), found, what)


@needs(Right.OFFICE)
def part_change(request: SignedIn, sort: str, pk: int) -> HttpResponse:
    part, found = _part(request, sort, pk)
    what = _("%(kind)s: change %(part)s") % {"kind": found.name, "part": _sort(sort).one}
    return _part_form(request, _sort(sort), part, found, what)


def _part_form(
    request: SignedIn, sort: PartKind, part: Any, found: JobKind, what: Any
) -> HttpResponse:
    initial = {"visit": request.GET.get("visit")} if "visit" in request.GET else None
    form = blank(request, sort.form, instance=part, kind=found, initial=initial)
    if attempt(form, lambda _said: services.save_part(part=form.instance, by=request.user)):
        say(request, _("Kept. Jobs already booked stay as they are."))
        return redirect("kind", found.pk)
    return _blank_page(request, form, what, reverse("kind", args=[found.pk]), trail(found))


@require_POST
@needs(Right.OFFICE)
def part_reorder(request: SignedIn, sort: str, pk: int, way: str) -> HttpResponse:
    part, found = _part(request, sort, pk)
    if sort != "hold":
        services.reorder_part(part=part, earlier=way == "earlier", by=request.user)
    return redirect("kind", found.pk)


@needs(Right.OFFICE)
def part_remove(request: SignedIn, sort: str, pk: int) -> HttpResponse:
    part, found = _part(request, sort, pk)
    if request.method == "POST":
        services.remove_part(part=part, by=request.user)
        say(request, _("Removed. Jobs already booked keep it."))
        return redirect("kind", found.pk)
    what = _("Remove “%(part)s” from %(kind)s?") % {"part": part, "kind": found.name}
    lines = [_("Jobs already booked keep it. New ones are booked without it.")]
    if sort == "visit":
        lines.append(_("Its holds and the inspections after it go too."))
    return ask_first(request, what, lines=lines, back=reverse("kind", args=[found.pk]))
