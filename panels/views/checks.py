"""A panel's record checked by the code, all findings on one page."""

from __future__ import annotations

from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from contractor.access import Right, SignedIn, fetch, may, needs
from panels.editions import EDITIONS
from panels.views.check_sheet import ALL, OPEN, TITLES, sheet_of
from panels.views.panels import PANELS, trail_to


@require_safe
@needs(Right.FIELD)
def page(request: SignedIn, pk: UUID) -> HttpResponse:
    panel = fetch(PANELS.select_related("site__authority"), request.user, pk=pk)
    outcomes = [(outcome.value, title) for outcome, title in TITLES.items()]
    context = {
        "sheet": sheet_of(panel, request.GET),
        "choices": [(OPEN, _("what needs doing")), (ALL, _("everything")), *outcomes],
        "editions": EDITIONS.values(),
        "may_adopt": may(request.user, Right.OFFICE),
        "trail": trail_to(panel, _("Record check")),
    }
    return render(request, "panels/check.html", context)
