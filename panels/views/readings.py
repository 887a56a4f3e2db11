"""What was measured at a panel: typed in, judged lightly, struck out when it was wrong."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms.attempt import attempt
from contractor.notices import say
from panels.forms.reading import FORMS, ReadingForm
from panels.models import Panel, Reading
from panels.queries import records
from panels.queries.readings import judged, unbalances
from panels.rules.layout import System
from panels.services import readings
from panels.views.panels import ASK, PANELS, trail_to

READINGS = Reading.objects.select_related("panel__site", "circuit")


@ASK
@needs(Right.FIELD)
def page(request: SignedIn, pk: UUID) -> HttpResponse:
    panel = fetch(PANELS, request.user, pk=pk)
    kind = request.POST.get("kind", "")
    forms = {
        name: form(request.POST if name == kind else None, panel=panel)
        for name, form in FORMS.items()
    }
    if request.method == "POST":
        if kind not in forms:
            raise Http404
        made = kept(request, panel, forms[kind])
        if made is not None:
            say(request, _("Recorded: %(n)s.") % {"n": len(made)})
            return redirect("readings", pk=panel.pk)
    taken = list(records.readings_of(panel))
    context = {
        "panel": panel,
        "forms": forms.items(),
        "readings": [judged(reading) for reading in taken],
        "together": unbalances(taken, System(panel.system)),
        "trail": trail_to(panel, _("Readings")),
    }
    status = 422 if request.method == "POST" else 200
    return render(request, "panels/readings.html", context, status=status)


def kept(request: SignedIn, panel: Panel, form: ReadingForm) -> list[Reading] | None:
    """All that the form says is recorded, or none of it and the form says why."""

    @transaction.atomic
    def save(_values: dict[str, Any]) -> list[Reading]:
        by, now = request.user, timezone.now()
        return [readings.record_reading(panel=panel, by=by, now=now, **one) for one in form.said()]

    return attempt(form, save)


@ASK
@needs(Right.FIELD)
def remove(request: SignedIn, pk: UUID) -> HttpResponse:
    reading = fetch(READINGS, request.user, pk=pk)
    back = reverse("readings", args=[reading.panel_id])
    if request.method == "POST":
        readings.remove_reading(reading=reading, by=request.user)
        say(request, _("The reading is struck out; the history keeps it."))
        return redirect(back)
    context = {
        "what": _("Strike out this reading?"),
        "lines": [str(reading)],
        "action": _("Strike it out"),
        "back": back,
        "is_danger": True,
        "where": reading.panel.name,
    }
    return render(request, "contractor/confirm.html", context)
