"""A home's loads on one page: facts, list, both methods worked through, and keeping one."""

from __future__ import annotations

from collections.abc import Collection
from copy import copy
from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from contractor.access import Right, SignedIn, fetch, may, needs
from contractor.forms import attempt as forms
from contractor.models import Site
from contractor.notices import say
from panels.editions import EDITIONS
from panels.forms.load import CalculationForm, HomeForm, LoadForm, QuickLoadForm
from panels.models import Calculation, Circuit, Home, Load
from panels.rules.layout import System
from panels.rules.supply import SUPPLIES
from panels.services import calculations
from panels.services import load as services
from panels.services.offers import kind_of, volts_of
from panels.views.load_sheet import sheet_of
from panels.views.panels import ASK

SITES = Site.objects.select_related("authority", "home", "shop")
LOADS = Load.objects.select_related("site__home", "site__shop", "circuit__panel")


@ASK
@needs(Right.FIELD)
def page(request: SignedIn, pk: UUID) -> HttpResponse:
    """What is known and what comes of it; a POST keeps one method's calculation."""
    site = fetch(SITES, request.user, pk=pk)
    sheet = sheet_of(site, request.POST or request.GET)
    form = CalculationForm(request.POST or None, methods=sheet.methods, initial=sheet.chosen)

    def save(said: dict[str, Any]) -> Calculation:
        return calculations.calculate(site=site, by=request.user, now=timezone.now(), **said)

    made = forms.attempt(form, save)
    if made:
        say(request, _("Kept as it is. It can be printed, and is never altered."))
        return redirect("calculation", pk=made.pk)
    context = {
        "site": site,
        "sheet": sheet,
        "quick": QuickLoadForm(site=site),
        "editions": EDITIONS.values(),
        "may_adopt": may(request.user, Right.OFFICE),
        "trail": trail(site),
    }
    return forms.page(request, "panels/load.html", form, **context)


@ASK
@needs(Right.FIELD)
def home(request: SignedIn, pk: UUID) -> HttpResponse:
    site = fetch(SITES, request.user, pk=pk)
    known = getattr(site, "home", None) or Home(site=site, **panel_facts(site, SUPPLIES))
    form = HomeForm(request.POST or None, instance=copy(known))
    instead = "instead" in request.POST

    def save(said: dict[str, Any]) -> Home:
        return services.record_home(
            site=site, by=request.user, rev=said["rev"], instead=instead, **form.values
        )

    if forms.attempt(form, save) is None:
        context = {"site": site, "other": getattr(site, "shop", None)}
        here = trail(site, _("The home"))
        return forms.page(request, "panels/home_form.html", form, trail=here, **context)
    say(request, _("The home’s facts are saved."))
    return redirect("load", pk=site.pk)


@ASK
@needs(Right.FIELD)
def add(request: SignedIn, pk: UUID) -> HttpResponse:
    """A POST from the quick line comes here too; what it lacks is asked for on the full form."""
    site = fetch(SITES, request.user, pk=pk)
    form = LoadForm(_posted(request), site=site, initial=_from_circuit(request, site))
    made = forms.attempt(
        form, lambda _said: services.add_load(site=site, by=request.user, **form.values)
    )
    if made is None:
        here = trail(site, _("Add a load"))
        return forms.page(request, "panels/load_form.html", form, site=site, trail=here)
    say(request, _("%(load)s is on the list.") % {"load": made})
    return redirect(f"{reverse('load', args=[site.pk])}#loads")


@ASK
@needs(Right.FIELD)
def change(request: SignedIn, pk: UUID) -> HttpResponse:
    load = fetch(LOADS, request.user, pk=pk)
    form = LoadForm(request.POST or None, instance=copy(load), site=load.site)

    def save(said: dict[str, Any]) -> Load:
        return services.change_load(load=load, by=request.user, rev=said["rev"], **form.values)

    if forms.attempt(form, save) is None:
        context = {"site": load.site, "load": load, "trail": trail(load.site, str(load))}
        return forms.page(request, "panels/load_form.html", form, **context)
    say(request, _("%(load)s is saved.") % {"load": load})
    return redirect(f"{reverse('load', args=[load.site_id])}#loads")


@require_POST
@needs(Right.FIELD)
def remove(request: SignedIn, pk: UUID) -> HttpResponse:
    load = fetch(LOADS, request.user, pk=pk)
    services.remove_load(load=load, by=request.user)
    undo = reverse("load-restore", args=[load.site_id, pk])
    say(request, _("%(load)s is off the list.") % {"load": load}, undo=undo)
    return redirect(f"{reverse('load', args=[load.site_id])}#loads")


@require_POST
@needs(Right.FIELD)
def restore(request: SignedIn, pk: UUID, load_id: UUID) -> HttpResponse:
    site = fetch(SITES, request.user, pk=pk)
    load = services.restore_load(site=site, load_id=load_id, by=request.user)
    say(request, _("%(load)s is back on the list.") % {"load": load})
    return redirect(f"{reverse('load', args=[site.pk])}#loads")


def trail(site: Site, here: str = "") -> list[tuple[str, str]]:
    """Site, load, and the page under it."""
    top = (str(site), reverse("site", args=[site.pk]))
    if not here:
        return [top, (_("Load"), "")]
    return [top, (_("Load"), reverse("load", args=[site.pk])), (here, "")]


def panel_facts(site: Site, supplies: Collection[System]) -> dict[str, Any]:
    """What the panel fed by the service already says about the home or shop."""
    panel = site.panels.filter(retired_at=None, fed_from=None, fed_through=None).first()
    if panel is None or System(panel.system) not in supplies:
        return {}
    return {"system": panel.system, "service_a": panel.main_a}


def _posted(request: SignedIn) -> dict[str, Any] | None:
    """The quick line leaves out what it does not ask: one of them, unless said otherwise."""
    if request.method != "POST":
        return None
    return {**request.POST.dict(), "count": request.POST.get("count") or "1"}


def _from_circuit(request: SignedIn, site: Site) -> dict[str, Any]:
    """A load begun from a circuit of the record: all but the nameplate."""
    if not (key := request.GET.get("circuit")):
        return {}
    circuits = Circuit.objects.filter(panel__site=site).select_related("panel")
    circuit = fetch(circuits, request.user, pk=key)
    kind = kind_of(circuit.name)
    return {
        "circuit": circuit,
        "name": circuit.name,
        "kind": kind.value if kind else "",
        "volts": volts_of(circuit),
        "unit": Load.Unit.VA,
    }
