"""The messages page: due, sent, not sent and why, and those a person has to decide on."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from dataclasses import dataclass

from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe

from contractor.access import Right, SignedIn, fetch, needs
from contractor.notices import say
from followups.cadence.words import State
from followups.forms import WordsForm
from followups.models import Message
from followups.queries import messages as queries
from followups.services import decisions

A_PAGE = 50


@dataclass(frozen=True)
class Act:
    """Something the office may do with a message: asked on a page of its own, then done."""

    name: str
    label: Promise
    ask: Promise
    done: Promise
    words: Promise | None = None
    is_danger: bool = False


ACTS = {
    act.name: act
    for act in (
        Act("send", _("Send now"), _("Send this now?"), _("It goes out with the next round.")),
        Act(
            "again",
            _("Send again"),
            _("Send it again? If the first one did arrive, they have it twice."),
            _("It goes out with the next round."),
        ),
        Act("release", _("Release"), _("Let it go out at its time?"), _("Released.")),
        Act("hold", _("Hold back"), _("Hold this back until you release it?"), _("Held back.")),
        Act(
            "told",
            _("They have it"),
            _("Did it arrive, or did you tell them another way?"),
            _("Marked as told."),
            words=_("How they were told"),
        ),
        Act(
            "drop",
            _("Do not send"),
            _("Never send this?"),
            _("It will not be sent."),
            words=_("Why not"),
            is_danger=True,
        ),
    )
}

# Which of them make sense, by where the message stands.
OFFERED: dict[State, tuple[str, ...]] = {
    State.DUE: ("send", "hold", "told", "drop"),
    State.HELD: ("release", "told", "drop"),
    State.UNSURE: ("told", "again", "drop"),
    State.FAILED: ("send", "told", "drop"),
    State.SKIPPED: ("send", "told"),
    State.EXPIRED: ("told",),
}


@needs(Right.OFFICE)
@require_safe
def index(request: SignedIn) -> HttpResponse:
    state = request.GET.get("state", "")
    state = state if state in list(State) else ""
    now = timezone.now()
    rows = queries.in_state(state, now=now) if state else queries.to_decide()
    page = Paginator(rows, A_PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "state": state, "counts": queries.counts(now=now)}
    return render(request, "followups/messages.html", context)


@needs(Right.OFFICE)
@require_safe
def one(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    message = fetch(queries.messages(), request.user, pk=pk)
    acts = [ACTS[name] for name in OFFERED.get(State(message.state), ())]
    return render(request, "followups/message.html", {"message": message, "acts": acts})


@needs(Right.OFFICE)
def act(request: SignedIn, pk: uuid.UUID, name: str) -> HttpResponse:
    """Ask, then do it. What the message has become in the meantime is said by the service."""
    message = fetch(queries.messages(), request.user, pk=pk)
    asked = ACTS.get(name)
    if asked is None:
        raise Http404
    form = WordsForm(request.POST or None, label=asked.words) if asked.words else None
    if request.method == "POST" and (form is None or form.is_valid()):
        words = form.cleaned_data["words"] if form else ""
        _DO[name](message, words, request)
        say(request, asked.done)
        return redirect("message", pk)
    context = {
        "what": asked.ask,
        "lines": [message.subject],
        "action": asked.label,
        "back": reverse("message", args=[pk]),
        "is_danger": asked.is_danger,
        "form": form or "",
    }
    status = 422 if form and form.errors else 200
    return render(request, "contractor/confirm.html", context, status=status)


def _send(message: Message, words: str, request: SignedIn) -> None:
    decisions.send_now(message=message, by=request.user, now=timezone.now())


_DO: dict[str, Callable[[Message, str, SignedIn], object]] = {
    "send": _send,
    "again": _send,
    "release": lambda message, _words, request: decisions.release(message=message, by=request.user),
    "hold": lambda message, _words, request: decisions.hold(message=message, by=request.user),
    "told": lambda message, words, request: decisions.mark_told(
        message=message, how=words, by=request.user, now=timezone.now()
    ),
    "drop": lambda message, words, request: decisions.drop(
        message=message, why=words, by=request.user
    ),
}
