"""A small shop's facts, for the load of a site that is no home."""

from __future__ import annotations

from copy import copy
from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms import attempt as forms
from contractor.notices import say
from panels.forms.shop import ShopForm
from panels.models import Shop
from panels.rules.supply import ALL_SUPPLIES
from panels.services import shop as services
from panels.views.load import SITES, panel_facts, trail
from panels.views.panels import ASK


@ASK
@needs(Right.FIELD)
def shop(request: SignedIn, pk: UUID) -> HttpResponse:
    site = fetch(SITES, request.user, pk=pk)
    known = getattr(site, "shop", None) or Shop(site=site, **panel_facts(site, ALL_SUPPLIES))
    form = ShopForm(request.POST or None, instance=copy(known))
    instead = "instead" in request.POST

    def save(said: dict[str, Any]) -> Shop:
        return services.record_shop(
            site=site, by=request.user, rev=said["rev"], instead=instead, **form.values
        )

    if forms.attempt(form, save) is None:
        context = {"site": site, "other": getattr(site, "home", None)}
        here = trail(site, _("The shop"))
        return forms.page(request, "panels/shop_form.html", form, trail=here, **context)
    say(request, _("The shop’s facts are saved."))
    return redirect("load", pk=site.pk)
