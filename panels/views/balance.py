"""Leg balance of a panel: the proposal, the moves written down, and keeping it."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.core import signing
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms import attempt as forms
from contractor.notices import say
from panels.forms.balance import MovesForm
from panels.forms.entrance import KeepForm
from panels.models import Calculation, Panel
from panels.rules.cautions import cautions
from panels.services import balancing
from panels.services.balancing import Moved
from panels.views.balance_sheet import balance_sheet, most_moves
from panels.views.panels import ASK, PANELS, trail_to

SALT = "panels.moves"


@ASK
@needs(Right.FIELD)
def page(request: SignedIn, pk: UUID) -> HttpResponse:
    """What moving breakers would do; a POST keeps the proposal as a calculation."""
    panel = fetch(PANELS.select_related("site__authority"), request.user, pk=pk)
    form, most = KeepForm(request.POST or None), most_moves(request.GET)

    def save(said: dict[str, Any]) -> Calculation:
        by, now = request.user, timezone.now()
        return balancing.keep_balance(panel=panel, by=by, now=now, most_moves=most, **said)

    if made := forms.attempt(form, save):
        say(request, _("Kept as it is. It can be printed, and is never altered."))
        return redirect("calculation", pk=made.pk)
    sheet = balance_sheet(panel, most=most)
    context = {
        "sheet": sheet,
        "panel": panel,
        "made": MovesForm(
            initial={"moves": written(panel, sheet.proposed.moves) if sheet.proposed else ""}
        ),
        "cautions": cautions("isolation", "planning", "record"),
        "trail": trail_to(panel, _("Leg balance")),
    }
    return forms.page(request, "panels/balance.html", form, **context)


@require_POST
@needs(Right.FIELD)
def make(request: SignedIn, pk: UUID) -> HttpResponse:
    """The moves that were shown are done at the panel: the record follows."""
    panel = fetch(Panel, request.user, pk=pk)
    form = MovesForm(request.POST)
    if not form.is_valid():
        say_first = _("Say first that the breakers have been moved: the record follows the panel.")
        messages.error(request, say_first)
        return redirect("balance", pk=panel.pk)
    done = balancing.make_moves(
        panel=panel, moves=read(panel, form.cleaned_data["moves"]), by=request.user
    )
    told = ngettext(
        "%(n)s breaker has its new place on record. Issue the directory anew.",
        "%(n)s breakers have their new places on record. Issue the directory anew.",
        len(done),
    )
    undo = reverse("balance-back", args=[panel.pk, written(panel, done)])
    say(request, told % {"n": len(done)}, undo=undo)
    return redirect("panel", pk=panel.pk)


@require_POST
@needs(Right.FIELD)
def back(request: SignedIn, pk: UUID, facts: str) -> HttpResponse:
    """The moves taken back, all of them, as long as nothing else happened to the breakers."""
    panel = fetch(Panel, request.user, pk=pk)
    done = balancing.make_moves(panel=panel, moves=read(panel, facts), by=request.user)
    told = ngettext(
        "Taken back: %(n)s breaker is where it was.",
        "Taken back: %(n)s breakers are where they were.",
        len(done),
    )
    say(request, told % {"n": len(done)})
    return redirect("panel", pk=panel.pk)


def written(panel: Panel, moves: list[Moved]) -> str:
    """The moves as they go through a page or an address: signed, for this panel only."""
    plain = [[one.circuit.hex, one.rev, one.space, one.half] for one in moves]
    return signing.dumps(plain, salt=f"{SALT}.{panel.pk}", compress=True)


def read(panel: Panel, said: str) -> list[Moved]:
    try:
        plain = signing.loads(said, salt=f"{SALT}.{panel.pk}")
    except signing.BadSignature as fault:
        raise Http404 from fault
    return [Moved(UUID(key), rev, space, half) for key, rev, space, half in plain]
