"""Homes calculated again after an adoption has changed: asked for, watched, looked through."""

from __future__ import annotations

from uuid import UUID

from django.core.paginator import Paginator
from django.http import HttpResponse, StreamingHttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from contractor.access import Right, SignedIn, fetch, needs
from contractor.lists import writing
from contractor.notices import say
from panels.models import Adoption, Recalculation
from panels.queries import governed
from panels.queries import recalculations as queries
from panels.services import recalculations
from panels.views.panels import ASK

PER_PAGE = 50


@ASK
@needs(Right.OFFICE)
def ask(request: SignedIn, pk: UUID) -> HttpResponse:
    """How many homes an adoption touches; a POST has them calculated again."""
    adoption = fetch(Adoption.objects.select_related("authority"), request.user, pk=pk)
    today = timezone.localdate()
    if request.method == "POST":
        run = recalculations.ask(
            adoption=adoption, by=request.user, now=timezone.now(), today=today
        )
        return redirect("recalculation", pk=run.pk)
    homes, editions = governed.touched(adoption)
    context = {
        "adoption": adoption,
        "on": governed.day_of(adoption, today=today),
        "today": today,
        "editions": editions,
        "homes": homes,
        "open": adoption.recalculations.filter(state=Recalculation.State.WORKING).first(),
        "trail": _trail(_("Calculate the homes again")),
    }
    return render(request, "panels/recalculation_ask.html", context)


@require_safe
@needs(Right.OFFICE)
def page(request: SignedIn, pk: UUID) -> HttpResponse:
    """How far it is and what came of it; the page asks for its first part again by itself."""
    run = fetch(queries.rounds(), request.user, pk=pk)
    context = {"run": run, "percent": _percent(run)}
    if request.htmx:
        answer = render(request, "panels/recalculation_progress.html", context)
        if not run.is_open:  # the lists below are not those of the page any more
            answer["HX-Refresh"] = "true"
        return answer
    lists = queries.lists(run)
    shown = request.GET.get("show", "")
    shown = shown if shown in lists else queries.CHANGED
    context |= {
        "show": shown,
        "over": lists[queries.OVER].count(),
        "page": Paginator(lists[shown], PER_PAGE).get_page(request.GET.get("page")),
        "trail": _trail(_("Calculated again")),
    }
    return render(request, "panels/recalculation.html", context)


@require_POST
@needs(Right.OFFICE)
def stop(request: SignedIn, pk: UUID) -> HttpResponse:
    run = fetch(Recalculation, request.user, pk=pk)
    recalculations.stop(recalculation=run, by=request.user, now=timezone.now())
    undo = reverse("recalculation-go-on", args=[pk])
    say(request, _("Stopped. What was kept until now stays."), undo=undo)
    return redirect("recalculation", pk=pk)


@require_POST
@needs(Right.OFFICE)
def go_on(request: SignedIn, pk: UUID) -> HttpResponse:
    run = fetch(Recalculation, request.user, pk=pk)
    recalculations.go_on(recalculation=run, by=request.user)
    say(request, _("It goes on with the homes that are left."))
    return redirect("recalculation", pk=pk)


@require_safe
@needs(Right.OFFICE)
def export(request: SignedIn, pk: UUID) -> StreamingHttpResponse:
    run = fetch(Recalculation, request.user, pk=pk)
    lines = writing.lines(queries.COLUMNS, queries.rows(run))
    answer = StreamingHttpResponse(lines, content_type="text/csv; charset=utf-8")
    name = slugify(f"{run.where} {run.edition} {run.on}")
    answer["Content-Disposition"] = f'attachment; filename="{name}.csv"'
    return answer


def _percent(run: Recalculation) -> int:
    return 100 * run.done // run.total if run.total else 100


def _trail(here: str) -> list[tuple[str, str]]:
    return [(_("Adoptions"), reverse("adoptions")), (here, "")]
