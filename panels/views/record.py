"""Recording a panel by thumb: choose size and rating, press a name, and the next space is there."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import redirect, render

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms.attempt import attempt
from contractor.keys import key_in
from panels.forms.record import RecordForm
from panels.models import Circuit, Panel
from panels.services import circuits
from panels.views.panels import ASK, PANELS
from panels.views.turn import Turn, first_guess, turn_at


@ASK
@needs(Right.FIELD)
def record(request: SignedIn, pk: UUID) -> HttpResponse:
    panel = fetch(PANELS.filter(retired_at=None), request.user, pk=pk)
    if request.method == "POST":
        return save(request, panel)
    last = circuit_or_none(panel, request.GET.get("last", ""))
    order = request.GET.get("order", "")
    turn = turn_at(panel, asked=request.GET.get("space", ""), last=last, order=order)
    form = RecordForm(panel=panel, fits=turn.fits, initial=first_guess(turn))
    return page(request, turn, form)


def save(request: SignedIn, panel: Panel) -> HttpResponse:
    said, order = request.POST, request.POST.get("order", "")
    where = f"{said.get('space', '')}{said.get('half', '')}"
    turn = turn_at(panel, asked=where, order=order)
    form = RecordForm(said, panel=panel, fits=turn.fits)
    made = attempt(form, lambda _v: put_once(request, panel, form.breaker()))
    if made is None:
        return page(request, turn, form, status=422)
    if not request.htmx:
        return redirect(f"{turn.url}?{urlencode({'last': made.pk, 'order': order})}")
    turn = turn_at(panel, last=made, order=order)
    return page(request, turn, RecordForm(panel=panel, fits=turn.fits, initial=first_guess(turn)))


def put_once(request: SignedIn, panel: Panel, said: dict[str, Any]) -> Circuit:
    """A form sent twice puts one breaker: it carries the key of the row it makes."""
    made = panel.circuits.filter(pk=said["id"]).first()
    return made or circuits.put_breaker(panel=panel, by=request.user, **said)


def circuit_or_none(panel: Panel, key: str) -> Circuit | None:
    named = key_in(key)
    return panel.circuits.filter(pk=named).first() if named else None


def page(request: SignedIn, turn: Turn, form: RecordForm, *, status: int = 200) -> HttpResponse:
    rating, poles = form.chosen()
    context = {
        "panel": turn.panel,
        "turn": turn,
        "form": form,
        "keys": form.keys(),
        "names": turn.names(rating_a=rating, poles=poles),
    }
    template = "panels/record_turn.html" if request.htmx else "panels/record.html"
    return render(request, template, context, status=status)
