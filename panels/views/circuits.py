"""One circuit: its page, taking it out, taking a change back."""

from __future__ import annotations

from copy import copy
from typing import Any
from uuid import UUID

from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from contractor import ways_back
from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms.attempt import attempt, page
from contractor.notices import say
from panels.forms.circuit import CircuitForm
from panels.models import Circuit, Panel
from panels.services import circuits, feeders, undo
from panels.views.panels import ASK, trail_to

CIRCUITS = Circuit.objects.select_related("panel__site", "feeds")


@ASK
@needs(Right.FIELD)
def circuit(request: SignedIn, pk: UUID) -> HttpResponse:
    found = fetch(CIRCUITS, request.user, pk=pk)
    form = CircuitForm(request.POST or None, instance=copy(found))

    @transaction.atomic
    def save(said: dict[str, Any]) -> Circuit:
        rev, swap = said["rev"], said["swap"]
        changed = circuits.change_circuit(
            circuit=found, by=request.user, rev=rev, swap=swap, **form.changes()
        )
        feed(request, changed, said["feeds"])
        return changed

    changed = attempt(form, save)
    if changed is None:
        context = {
            "circuit": found,
            "cells": cells(found),
            "trail": trail_to(found.panel, str(found)),
        }
        return page(request, "panels/circuit.html", form, **context)
    undo_at = None if form.cleaned_data["swap"] else undo_url(changed)
    say(request, _("%(circuit)s is saved.") % {"circuit": changed}, undo=undo_at)
    return redirect("panel", pk=found.panel_id)


def cells(found: Circuit) -> list[tuple[str, Any]]:
    """Where it sits and what it is, for the title block."""
    seat = found.seat_in(found.panel.frame)
    return [
        (_("Spaces"), seat.text),
        (_("Legs"), " ".join(seat.legs)),
        (_("Breaker"), _("%(amps)s A") % {"amps": found.rating_a}),
        (_("Poles"), found.poles),
    ]


def feed(request: SignedIn, changed: Circuit, wanted: Panel | None) -> None:
    """Let the breaker feed the panel that was chosen, and no other."""
    before = Panel.objects.filter(fed_from=changed).first()
    if before == wanted:
        return
    if before is not None:
        feeders.feed_panel(panel=before, by=request.user)
    if wanted is not None:
        feeders.feed_panel(panel=wanted, circuit=changed, by=request.user)


@require_POST
@needs(Right.FIELD)
def remove(request: SignedIn, pk: UUID) -> HttpResponse:
    found = fetch(CIRCUITS, request.user, pk=pk)
    circuits.remove_circuit(circuit=found, by=request.user)
    told = _("%(circuit)s is taken out; its space is empty.") % {"circuit": found}
    say(request, told, undo=undo_url(found))
    return redirect("panel", pk=found.panel_id)


@require_POST
@needs(Right.FIELD)
def take_back(request: SignedIn, pk: UUID, circuit_id: UUID, rev: int) -> HttpResponse:
    panel = fetch(Panel, request.user, pk=pk)
    left = undo.undo_circuit(panel=panel, circuit_id=circuit_id, by=request.user, rev=rev)
    if left is None:
        say(request, _("Taken back: the breaker is out again."))
    else:
        say(request, _("Taken back: %(circuit)s is as it was.") % {"circuit": left})
    return redirect(ways_back.back_to(request, reverse("panel", args=[panel.pk])))


def undo_url(changed: Circuit) -> str:
    """Where a POST takes back the revision that `changed` is now at."""
    return reverse("circuit-undo", args=[changed.panel_id, changed.pk, changed.rev])
