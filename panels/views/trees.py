"""A site's tree of panels: what each carries, what a fault can draw there, and keeping both."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from contractor.access import Right, SignedIn, fetch, may, needs
from contractor.forms import attempt as forms
from contractor.models import Site
from contractor.notices import say
from panels.editions import EDITIONS
from panels.forms.entrance import FaultForm, KeepForm
from panels.models import Calculation
from panels.rules.cautions import cautions
from panels.services import markings, trees
from panels.views.calculations import CALCULATIONS
from panels.views.directory import pdf
from panels.views.fault_sheet import fault_sheet
from panels.views.feeder_sheet import feeder_sheet
from panels.views.panels import ASK

SITES = Site.objects.select_related("authority")


@ASK
@needs(Right.FIELD)
def feeders(request: SignedIn, pk: UUID) -> HttpResponse:
    """What each panel carries; a POST keeps the roll-up."""
    site = fetch(SITES, request.user, pk=pk)
    form = KeepForm(request.POST or None)

    def save(said: dict[str, Any]) -> Calculation:
        return trees.keep_carried(site=site, by=request.user, now=timezone.now(), **said)

    if made := forms.attempt(form, save):
        return _kept(request, made)
    context = {"sheet": feeder_sheet(site, request.GET)} | _around(request, site, _("Feeders"))
    context["cautions"] = cautions("planning", "load", "isolation")
    return forms.page(request, "panels/feeders.html", form, **context)


@ASK
@needs(Right.FIELD)
def fault(request: SignedIn, pk: UUID) -> HttpResponse:
    """The fault current at every panel; a POST keeps the study as it is calculated here."""
    site = fetch(SITES, request.user, pk=pk)
    ways = FaultForm(request.GET if "asked" in request.GET else None)
    form, choices = KeepForm(request.POST or None), ways.chosen()

    def save(said: dict[str, Any]) -> Calculation:
        return trees.keep_available(
            site=site, choices=choices, by=request.user, now=timezone.now(), **said
        )

    if made := forms.attempt(form, save):
        return _kept(request, made)
    around = _around(request, site, _("Fault current"))
    study = fault_sheet(site, request.GET, choices)
    context = {"study": study, "sheet": study.tree, "ways": ways} | around
    context["cautions"] = cautions("planning", "fault", "shock", "isolation")
    return forms.page(request, "panels/fault.html", form, **context)


@require_safe
@needs(Right.FIELD)
def marking(request: SignedIn, pk: UUID) -> HttpResponse:
    """The label of a kept fault study, for the equipment it is asked on."""
    made = fetch(CALCULATIONS, request.user, pk=pk)
    name = slugify(f"{made.site.street} fault marking {made.on}")
    return pdf(markings.label(made), f"{name}.pdf")


def _kept(request: SignedIn, made: Calculation) -> HttpResponse:
    say(request, _("Kept as it is. It can be printed, and is never altered."))
    return redirect("calculation", pk=made.pk)


def _around(request: SignedIn, site: Site, here: str) -> dict[str, Any]:
    return {
        "site": site,
        "editions": EDITIONS.values(),
        "may_adopt": may(request.user, Right.OFFICE),
        "trail": [(str(site), reverse("site", args=[site.pk])), (here, "")],
    }
