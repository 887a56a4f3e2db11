"""Will it fit: something proposed at a site, by every method, with the ways out."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from contractor.access import Right, SignedIn, fetch, may, needs
from contractor.forms import attempt as forms
from contractor.models import Site
from contractor.notices import say
from panels.editions import EDITIONS
from panels.forms.fit import KeepForm, ProposalForm
from panels.models import Calculation
from panels.queries.premises import premises_at
from panels.services import fit as services
from panels.views.fit_sheet import Place, objections, place_of, rows
from panels.views.load import SITES, trail
from panels.views.panels import ASK

BASIS = ("on", "edition", "stated_by")


@ASK
@needs(Right.FIELD)
def page(request: SignedIn, pk: UUID) -> HttpResponse:
    """The question stands in the address, so it can be sent on; a POST keeps its answer."""
    site = fetch(SITES, request.user, pk=pk)
    place = place_of(site, request.GET)
    form, inputs = _proposed(request, site)
    keeping = KeepForm(request.POST or None, initial={key: request.GET.get(key) for key in BASIS})

    def save(said: dict[str, Any]) -> Calculation | None:
        if not inputs:
            return None
        return services.keep(site=site, inputs=inputs, by=request.user, now=timezone.now(), **said)

    made = forms.attempt(keeping, save)
    if made:
        say(request, _("Kept as it is. It can be printed, and is never altered."))
        return redirect("calculation", pk=made.pk)
    context = {
        "site": site,
        "place": place,
        "premises": premises_at(site),
        "choices": _links(site, request),
        "editions": EDITIONS.values(),
        "may_adopt": may(request.user, Right.OFFICE),
        "asking": form,
        "trail": [*trail(site, _("Will it fit?"))],
        **_answered(form, inputs, place),
    }
    return forms.page(request, "panels/fit.html", keeping, **context)


def _proposed(request: SignedIn, site: Site) -> tuple[ProposalForm, dict[str, Any] | None]:
    """The form as the address fills it in, and the question it makes."""
    known = premises_at(site)
    asked = {"service_a": known.service_a if known else None, "count": 1, "unit": "A"}
    if "kind" not in request.GET:
        return ProposalForm(site=site, initial=asked), None
    data = {**request.GET.dict()}
    data.setdefault("service_a", str(asked["service_a"] or ""))
    form = ProposalForm(data, site=site)

    def question(said: dict[str, Any]) -> dict[str, Any]:
        return services.proposed(site=site, load=form.instance, service_a=said["service_a"])

    return form, forms.attempt(form, question)


def _answered(form: ProposalForm, inputs: dict[str, Any] | None, place: Place) -> dict[str, Any]:
    """The result and what is listed beside it; nothing before it is asked."""
    basis = place.basis
    if not inputs or not basis:
        return {"result": None}
    result = forms.attempt(form, lambda _said: services.ask(inputs, basis))
    if result is None:
        return {"result": None}
    listed = {name: form.data[name] for name in form.fields if form.data.get(name)}
    listed |= {"new": "on"}
    return {
        "result": result,
        "verdict": result.line("verdict"),
        "rows": rows(result),
        "objections": objections(result),
        "listed": {name: value for name, value in listed.items() if name != "service_a"},
    }


def _links(site: Site, request: SignedIn) -> list[tuple[str, str]]:
    """Each quick choice as an address of this page, by the edition looked through."""
    here = reverse("fit", args=[site.pk])
    kept = {key: request.GET[key] for key in (*BASIS, "service_a") if request.GET.get(key)}
    return [
        (str(choice.label), f"{here}?{urlencode({**said, **kept})}#answer")
        for choice, said in services.choices_at(site)
    ]
