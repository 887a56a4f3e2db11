"""A panel's page, and adding, correcting and retiring it."""

from __future__ import annotations

from copy import copy
from typing import Any
from uuid import UUID

from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from contractor.access import Right, SignedIn, fetch, may, needs
from contractor.forms.attempt import attempt, page
from contractor.models import Site
from contractor.notices import say
from panels.forms.panel import PanelForm
from panels.models import Panel
from panels.services import feeders, panels
from panels.views.check_sheet import sheet_of as sheet_of_check
from panels.views.sheet import sheet_of

PANELS = Panel.objects.select_related(
    "site__customer", "site__utility", "site__authority", "fed_from__panel"
)
ASK = require_http_methods(["GET", "HEAD", "POST"])


@require_safe
@needs(Right.FIELD)
def panel(request: SignedIn, pk: UUID) -> HttpResponse:
    found = fetch(PANELS.select_related("fed_through"), request.user, pk=pk)
    editable = may(request.user, Right.FIELD) and found.retired_at is None
    trail = [(str(found.site), reverse("site", args=[found.site_id])), (found.name, "")]
    sheet = sheet_of(found, editable=editable)
    check = sheet_of_check(found, {}, alone=True) if found.retired_at is None else None
    return render(request, "panels/panel.html", {"sheet": sheet, "check": check, "trail": trail})


@ASK
@needs(Right.FIELD)
def add(request: SignedIn, pk: UUID) -> HttpResponse:
    site = fetch(Site, request.user, pk=pk)
    form = PanelForm(request.POST or None, site=site)

    def save(_values: dict[str, Any]) -> Panel:
        fed = form.feed()
        return panels.add_panel(site=site, by=request.user, **fed, **form.values)

    made = attempt(form, save)
    if made is None:
        trail = [(str(site), reverse("site", args=[site.pk])), (_("Add a panel"), "")]
        return page(request, "panels/panel_form.html", form, site=site, trail=trail)
    say(request, _("%(panel)s is on record. Now put its breakers in.") % {"panel": made})
    return redirect("panel-record", pk=made.pk)


@ASK
@needs(Right.FIELD)
def edit(request: SignedIn, pk: UUID) -> HttpResponse:
    found = fetch(PANELS, request.user, pk=pk)
    form = PanelForm(request.POST or None, instance=copy(found), site=found.site)

    @transaction.atomic
    def save(values: dict[str, Any]) -> Panel:
        by, rev = request.user, values["rev"]
        changed = panels.change_panel(panel=found, by=by, rev=rev, **form.values)
        return feeders.feed_panel(panel=changed, by=by, **form.feed())

    if attempt(form, save) is None:
        context = {"site": found.site, "panel": found, "trail": trail_to(found, _("Correct"))}
        return page(request, "panels/panel_form.html", form, **context)
    say(request, _("%(panel)s is corrected.") % {"panel": found})
    return redirect("panel", pk=found.pk)


@ASK
@needs(Right.FIELD)
def retire(request: SignedIn, pk: UUID) -> HttpResponse:
    found = fetch(PANELS, request.user, pk=pk)
    if request.method == "POST":
        panels.retire_panel(panel=found, by=request.user, now=timezone.now())
        say(request, _("%(panel)s is retired.") % {"panel": found})
        return redirect("site", pk=found.site_id)
    context = {
        "what": _("Retire %(panel)s?") % {"panel": found},
        "lines": [
            _("Its record stays readable, but cannot be changed any more."),
            _("The breaker that feeds it becomes free for another panel."),
        ],
        "action": _("Retire the panel"),
        "back": reverse("panel", args=[found.pk]),
        "is_danger": True,
        "where": found.site.address,
    }
    return render(request, "contractor/confirm.html", context)


def trail_to(found: Panel, here: str) -> list[tuple[str, str]]:
    """Where a page under a panel is: site, panel, here."""
    return [
        (str(found.site), reverse("site", args=[found.site_id])),
        (found.name, reverse("panel", args=[found.pk])),
        (here, ""),
    ]
