"""A panel's schedule from a spreadsheet and into one: choose, look, take in; or download."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST, require_safe

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms.attempt import attempt, page
from contractor.forms.places import ListForm
from contractor.models import UploadedList
from contractor.notices import say
from contractor.services.imports import Verb
from panels.models import Panel
from panels.queries import schedule as lists
from panels.schedules.columns import COLUMNS
from panels.services import schedule
from panels.views.panels import ASK, PANELS, trail_to

HERE = gettext_lazy("Bring in a schedule")


@ASK
@needs(Right.FIELD)
def upload(request: SignedIn, pk: UUID) -> HttpResponse:
    panel = fetch(PANELS.filter(retired_at=None), request.user, pk=pk)
    form = ListForm(request.POST or None, request.FILES or None)

    def save(typed: dict[str, Any]) -> UploadedList:
        file, by, now = typed["file"], request.user, timezone.now()
        return schedule.upload(panel=panel, file=file, name=file.name, by=by, now=now)

    kept = attempt(form, save)
    if kept is not None:
        return redirect("panel-import-preview", pk=panel.pk, list_id=kept.pk)
    context = {"panel": panel, "columns": COLUMNS, "trail": trail_to(panel, str(HERE))}
    return page(request, "panels/schedule_import.html", form, **context)


@require_safe
@needs(Right.FIELD)
def preview(request: SignedIn, pk: UUID, list_id: UUID) -> HttpResponse:
    """What taking it in would do, worked out from its lines as the panel is now."""
    panel = fetch(PANELS, request.user, pk=pk)
    uploaded = fetch_list(panel, list_id)
    context: dict[str, Any] = {
        "panel": panel,
        "list": uploaded,
        "trail": trail_to(panel, str(HERE)),
    }
    if not uploaded.taken_at:
        found = schedule.plan(panel, schedule.lines_of(uploaded))
        context |= {
            "plan": found,
            "counts": {verb.value: found.count(verb) for verb in Verb},
            "steps": [step for step in found.steps if step.verb is not Verb.SAME],
        }
    return render(request, "panels/schedule_preview.html", context)


@require_POST
@needs(Right.FIELD)
def take(request: SignedIn, pk: UUID, list_id: UUID) -> HttpResponse:
    panel = fetch(PANELS, request.user, pk=pk)
    uploaded = fetch_list(panel, list_id)
    schedule.take_in(uploaded=uploaded, panel=panel, by=request.user, now=timezone.now())
    say(request, _("The schedule is taken in."))
    return redirect("panel", pk=panel.pk)


@require_safe
@needs(Right.FIELD)
def export(request: SignedIn, pk: UUID) -> HttpResponse:
    panel = fetch(PANELS, request.user, pk=pk)
    name = slugify(f"{panel.site.street} {panel.name}")
    return as_csv(lists.schedule_list(panel), f"{name}-schedule.csv")


@require_safe
@needs(Right.FIELD)
def example(request: SignedIn) -> HttpResponse:
    return as_csv(lists.example(), "panel-schedule-example.csv")


def fetch_list(panel: Panel, list_id: UUID) -> UploadedList:
    return get_object_or_404(UploadedList, pk=list_id, kind=schedule.KIND, subject=panel.pk)


def as_csv(data: bytes, name: str) -> HttpResponse:
    disposition = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(data, content_type="text/csv; charset=utf-8", headers=disposition)
