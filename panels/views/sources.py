"""Sources of a site, and which circuits they back up in which order."""

from __future__ import annotations

from copy import copy
from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms.attempt import attempt, page
from contractor.models import Site
from contractor.notices import say
from panels.forms.backup import BackupForm
from panels.forms.source import SourceForm
from panels.models import Source
from panels.services import backup, sources
from panels.views.panels import ASK

SOURCES = Source.objects.select_related("site", "circuit__panel")


@ASK
@needs(Right.FIELD)
def add(request: SignedIn, pk: UUID) -> HttpResponse:
    site = fetch(Site, request.user, pk=pk)
    form = SourceForm(request.POST or None, site=site)
    made = attempt(form, lambda _v: sources.add_source(site=site, by=request.user, **form.values))
    if made is None:
        trail = trail_at(site, _("Add a source"))
        return page(request, "panels/source_form.html", form, site=site, trail=trail)
    say(request, _("%(source)s is on record.") % {"source": made})
    return back_from(made)


@ASK
@needs(Right.FIELD)
def source(request: SignedIn, pk: UUID) -> HttpResponse:
    found = fetch(SOURCES, request.user, pk=pk)
    form = SourceForm(request.POST or None, instance=copy(found), site=found.site)

    def save(said: dict[str, Any]) -> Source:
        by, rev = request.user, said["rev"]
        return sources.change_source(source=found, by=by, rev=rev, **form.values)

    changed = attempt(form, save)
    if changed is None:
        trail = trail_at(found.site, str(found))
        context = {"site": found.site, "source": found, "trail": trail}
        return page(request, "panels/source_form.html", form, **context)
    say(request, _("%(source)s is saved.") % {"source": changed})
    return back_from(changed)


@ASK
@needs(Right.FIELD)
def remove(request: SignedIn, pk: UUID) -> HttpResponse:
    found = fetch(SOURCES, request.user, pk=pk)
    if request.method == "POST":
        sources.remove_source(source=found, by=request.user)
        say(request, _("%(source)s is taken off the record.") % {"source": found})
        return back_from(found)
    context = {
        "what": _("Take %(source)s off the record?") % {"source": found},
        "lines": [_("Its breaker stays as it is. The history keeps what was recorded.")],
        "action": _("Take it off"),
        "back": reverse("source", args=[found.pk]),
        "is_danger": True,
        "where": found.site.address,
    }
    return render(request, "contractor/confirm.html", context)


@ASK
@needs(Right.FIELD)
def backed_up(request: SignedIn, pk: UUID) -> HttpResponse:
    site = fetch(Site, request.user, pk=pk)
    form = BackupForm(request.POST or None, site=site)
    changed = attempt(form, lambda _v: backup.set_backup(site=site, by=request.user, **form.said()))
    if changed is None:
        trail = trail_at(site, _("Backed-up circuits"))
        return page(request, "panels/backup.html", form, site=site, trail=trail)
    say(request, _("Saved. Circuits changed: %(n)s.") % {"n": changed})
    return redirect("backup", pk=site.pk)


def trail_at(site: Site, here: str) -> list[tuple[str, str]]:
    return [(str(site), reverse("site", args=[site.pk])), (here, "")]


def back_from(found: Source) -> HttpResponse:
    """To the panel the source is connected at, else to its site."""
    if found.circuit:
        return redirect("panel", pk=found.circuit.panel_id)
    return redirect("site", pk=found.site_id)
