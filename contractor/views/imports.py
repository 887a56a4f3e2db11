"""Bring in a list of customers and sites: choose a file, look at it, take it in."""

from __future__ import annotations

import uuid
from collections.abc import Iterable

from django.contrib import messages
from django.http import HttpResponse, StreamingHttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from contractor.access import Right, SignedIn, needs
from contractor.forms.attempt import attempt, page
from contractor.forms.places import ListForm
from contractor.lists.customers import COLUMNS
from contractor.lists.customers import example as example_list
from contractor.models import UploadedList
from contractor.queries.lists import customer_list
from contractor.services import imports

SHOWN = 200
CUSTOMERS = UploadedList.Kind.CUSTOMERS


@needs(Right.OFFICE)
def upload(request: SignedIn) -> HttpResponse:
    form = ListForm(request.POST or None, request.FILES or None)
    by, now = request.user, timezone.now()
    kept = attempt(
        form,
        lambda typed: imports.upload(file=typed["file"], name=typed["file"].name, by=by, now=now),
    )
    if kept is not None:
        return redirect("import-preview", kept.pk)
    return page(request, "contractor/import.html", form, columns=COLUMNS)


@needs(Right.OFFICE)
def preview(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    """What taking it in would do, worked out from the rows as they are now."""
    uploaded = get_object_or_404(UploadedList, pk=pk, kind=CUSTOMERS)
    if uploaded.taken_at:
        return render(request, "contractor/import_done.html", {"list": uploaded})
    found = imports.plan(imports.rows_of(uploaded))
    interesting = [step for step in found.steps if step.verb is not imports.Verb.SAME]
    context = {
        "list": uploaded,
        "plan": found,
        "counts": {verb.value: found.count(verb) for verb in imports.Verb},
        "steps": interesting[:SHOWN],
        "more": max(0, len(interesting) - SHOWN),
        "unused": _unused(found),
        "problems": found.problems[:SHOWN],
        "more_problems": max(0, len(found.problems) - SHOWN),
    }
    return render(request, "contractor/import_preview.html", context)


def _unused(found: imports.Plan) -> str:
    told = _("These columns are not understood and stay behind: %s.")
    return told % ", ".join(found.unused) if found.unused else ""


@needs(Right.OFFICE)
@require_POST
def take(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    uploaded = get_object_or_404(UploadedList, pk=pk, kind=CUSTOMERS)
    imports.take_in(uploaded=uploaded, by=request.user, now=timezone.now())
    messages.success(request, _("The list is taken in."))
    return redirect("import-preview", pk)


@needs(Right.OFFICE)
@require_safe
def example(request: SignedIn) -> StreamingHttpResponse:
    return _file([example_list()], "customers-example.csv")


@needs(Right.OFFICE)
@require_safe
def export(request: SignedIn) -> StreamingHttpResponse:
    """Every customer and site, in the columns that can be brought in again."""
    return _file(customer_list(), f"customers-{timezone.localdate().isoformat()}.csv")


def _file(parts: Iterable[bytes], name: str) -> StreamingHttpResponse:
    disposition = {"Content-Disposition": f'attachment; filename="{name}"'}
    kind = "text/csv; charset=utf-8"
    return StreamingHttpResponse(parts, content_type=kind, headers=disposition)
