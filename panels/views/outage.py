"""The outage page of a site: choose one, see what stays on, keep the answer."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms.attempt import attempt, page
from contractor.models import Site
from contractor.notices import say
from panels.forms.outage import KeepOutageForm
from panels.models import Calculation
from panels.rules.standby import answer, size_answer
from panels.services import calculations
from panels.views.outage_sheet import OutageSheet, sheet_of
from panels.views.panels import ASK
from panels.views.sources import trail_at

SITES = Site.objects.select_related("authority", "home")


@ASK
@needs(Right.FIELD)
def outage(request: SignedIn, pk: UUID) -> HttpResponse:
    """A GET looks at an outage, a POST to the same address keeps one answer."""
    site = fetch(SITES, request.user, pk=pk)
    sheet = sheet_of(site, request.GET)
    form = KeepOutageForm(
        request.POST or None, kept=sheet.kept_choices, initial={"what": answer.KEY}
    )

    def save(said: dict[str, Any]) -> Calculation:
        method, inputs = chosen(sheet, said.pop("what"))
        return calculations.keep(
            site=site, method=method, inputs=inputs, by=request.user, now=timezone.now(),
            **said,
        )  # fmt: skip

    made = attempt(form, save)
    if made is None:
        trail = trail_at(site, _("In an outage"))
        return page(request, "panels/outage.html", form, site=site, sheet=sheet, trail=trail)
    say(request, _("Kept as it is. It can be printed, and is never altered."))
    return redirect("calculation", pk=made.pk)


def chosen(sheet: OutageSheet, what: str) -> tuple[str, dict[str, Any]]:
    """The question and the inputs of what was chosen to be kept."""
    for one in sheet.sized:
        if one.key == what:
            return size_answer.KEY, one.inputs
    return answer.KEY, sheet.standby.inputs if sheet.standby else {}
