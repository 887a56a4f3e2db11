"""Conductors: a page by itself for the van, and one that starts from a circuit of the record."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms import attempt as forms
from contractor.notices import say
from panels.forms.conductor import KeepConductorForm
from panels.models import Calculation, Circuit
from panels.services import calculations
from panels.views.conductor_sheet import sheet_by_itself, sheet_of
from panels.views.panels import ASK, trail_to

CIRCUITS = Circuit.objects.select_related("panel__site__authority").prefetch_related("loads")


@require_safe
@needs(Right.FIELD)
def by_itself(request: SignedIn) -> HttpResponse:
    """Everything said stands in the address, so that it can be sent to someone."""
    context = {"sheet": sheet_by_itself(request.GET), "trail": [(_("Conductors"), "")]}
    return render(request, "panels/conductors.html", context)


@ASK
@needs(Right.FIELD)
def of_circuit(request: SignedIn, pk: UUID) -> HttpResponse:
    """What the record says is filled in; a POST keeps one of the answers for the site."""
    circuit, now = fetch(CIRCUITS, request.user, pk=pk), timezone.now()
    site = circuit.panel.site
    sheet = sheet_of(circuit, request.GET, now)
    form = KeepConductorForm(request.POST or None, methods=sheet.methods, initial=_chosen(request))

    def save(told: dict[str, Any]) -> Calculation:
        inputs = sheet.inputs(told["method"])
        return calculations.keep(site=site, inputs=inputs, by=request.user, now=now, **told)

    made = forms.attempt(form, save)
    if made:
        say(request, _("Kept as it is. It can be printed, and is never altered."))
        return redirect("calculation", pk=made.pk)
    context = {"circuit": circuit, "sheet": sheet, "trail": _trail(circuit)}
    return forms.page(request, "panels/conductor.html", form, **context)


def _chosen(request: SignedIn) -> dict[str, str]:
    return {"edition": request.GET.get("edition", "")}


def _trail(circuit: Circuit) -> list[tuple[str, str]]:
    here = trail_to(circuit.panel, str(circuit))
    own = (str(circuit), reverse("circuit", args=[circuit.pk]))
    return [*here[:-1], own, (_("Conductor"), "")]
