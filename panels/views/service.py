"""The service entrance of a site, described and corrected."""

from __future__ import annotations

from copy import copy
from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms import attempt as forms
from contractor.models import Site
from contractor.notices import say
from panels.forms.entrance import EntranceForm
from panels.models import ServiceEntrance
from panels.services import entrance as services
from panels.views.panels import ASK

SITES = Site.objects.select_related("entrance", "authority")


@ASK
@needs(Right.FIELD)
def page(request: SignedIn, pk: UUID) -> HttpResponse:
    site = fetch(SITES, request.user, pk=pk)
    known = getattr(site, "entrance", None) or ServiceEntrance(site=site)
    form = EntranceForm(request.POST or None, instance=copy(known))

    def save(said: dict[str, Any]) -> ServiceEntrance:
        return services.record_entrance(
            site=site, by=request.user, rev=said["rev"], **form.values
        )  # fmt: skip

    if forms.attempt(form, save) is None:
        trail = [(str(site), reverse("site", args=[site.pk])), (_("Service entrance"), "")]
        return forms.page(request, "panels/service_form.html", form, site=site, trail=trail)
    say(request, _("The service entrance is saved."))
    return redirect("fault", pk=site.pk)
