"""A calculation as it was kept: on screen, as a worksheet, and beside another one."""

from __future__ import annotations

from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import formats
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from contractor.access import Right, SignedIn, fetch, needs
from panels.models import Calculation
from panels.rules.working import Result
from panels.services import markings, worksheets
from panels.services.calculations import compared, headlines, result_of
from panels.views.directory import pdf
from panels.views.load import trail
from panels.worksheet.paper import inputs

CALCULATIONS = Calculation.objects.select_related("site__authority", "made_by")


@require_safe
@needs(Right.FIELD)
def page(request: SignedIn, pk: UUID) -> HttpResponse:
    made = fetch(CALCULATIONS, request.user, pk=pk)
    result = result_of(made)
    alike = {"total_va__isnull": False} if made.is_load else {"method": made.method}
    others = made.site.calculations.filter(**alike).exclude(pk=made.pk)
    context = {
        "made": made,
        "result": result,
        "headlines": headlines(result),
        "inputs": list(inputs(made.inputs)),
        "cells": _cells(made, result),
        "marks": markings.is_asked(made),
        "others": others.select_related("made_by").defer("result", "inputs")[:10],
        "trail": trail(made.site, _("Calculation")),
    }
    return render(request, "panels/calculation.html", context)


@require_safe
@needs(Right.FIELD)
def worksheet(request: SignedIn, pk: UUID) -> HttpResponse:
    made = fetch(CALCULATIONS, request.user, pk=pk)
    name = slugify(f"{made.site.street} load {made.method} {made.on}")
    return pdf(worksheets.worksheet(made), f"{name}.pdf")


@require_safe
@needs(Right.FIELD)
def against(request: SignedIn, pk: UUID, other: UUID) -> HttpResponse:
    made = fetch(CALCULATIONS, request.user, pk=pk)
    earlier = fetch(CALCULATIONS.filter(site=made.site), request.user, pk=other)
    here = trail(made.site, _("Compare"))
    back = (_("Calculation"), reverse("calculation", args=[made.pk]))
    context = {
        "made": made,
        "earlier": earlier,
        "lines": compared(earlier, made),
        "trail": [*here[:-1], back, here[-1]],
    }
    return render(request, "panels/calculation_against.html", context)


def _cells(made: Calculation, result: Result) -> list[tuple[str, str]]:
    return [
        (_("Jurisdiction"), made.jurisdiction),
        (_("Edition"), result.edition_title),
        (_("In force on"), formats.date_format(made.on)),
        (_("Calculated by"), made.software),
    ]
