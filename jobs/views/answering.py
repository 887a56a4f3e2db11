"""What pressing a button on a line of the close-out list does."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from functools import partial
from typing import Any

from django import forms
from django.core import signing
from django.http import Http404
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from contractor.access import SignedIn, fetch, visible
from contractor.errors import Refused
from contractor.forms.attempt import show_refusal
from contractor.keys import key_in
from contractor.notices import say
from jobs.forms.answers import Blanks
from jobs.forms.blank import Blank
from jobs.forms.field import (
    AbsentForm,
    RevisionForm,
    SignForm,
    WhyNotForm,
    WordsForm,
    reading_form,
)
from jobs.models import CloseOutLine, Signature, Visit
from jobs.planning.close_out import MEASURED
from jobs.queries.close_out import visit_at_hand
from jobs.services import answers, measuring
from jobs.services import signing as signatures
from panels.models import Panel, Reading
from panels.services.directory import issue_directory

STRUCK = "jobs.struck-reading"  # with the line: the salt of undo addresses

Fault = dict[str, Any] | None
"""None when it is done; else the blanks that have something to say, by their name in `Blanks`."""


def _button(request: SignedIn, act: Callable[..., Any]) -> Fault:
    form = RevisionForm(request.POST)
    return None if form.is_valid() and form.try_to(act) else {"fault": form}


def _typed(form: Blank, act: Callable[..., Any], name: str) -> Fault:
    return None if form.is_valid() and form.try_to(act) else {name: form}


def tick(request: SignedIn, line: CloseOutLine) -> Fault:
    return _button(request, partial(answers.tick, line=line, **_now(request)))


def untick(request: SignedIn, line: CloseOutLine) -> Fault:
    return _button(request, partial(answers.tick, line=line, done=False, **_now(request)))


def words(request: SignedIn, line: CloseOutLine) -> Fault:
    form = WordsForm(request.POST, auto_id=f"id_{line.pk}_%s")
    return _typed(form, partial(answers.write, line=line, **_now(request)), "words")


def why_not(request: SignedIn, line: CloseOutLine) -> Fault:
    form = WhyNotForm(request.POST, auto_id=f"id_{line.pk}_%s")
    return _typed(form, partial(answers.does_not_apply, line=line, **_now(request)), "why_not")


def applies(request: SignedIn, line: CloseOutLine) -> Fault:
    return _button(request, partial(answers.applies_after_all, line=line, by=request.user))


def measure(request: SignedIn, line: CloseOutLine) -> Fault:
    if line.asks not in MEASURED:
        raise Http404
    panel = fetch(Panel, request.user, pk=request.POST.get("panel"), site=line.job.site_id)
    form = reading_form(line, panel, request.POST)
    if not form.is_valid():
        return {"reading": form, "panel": panel}
    said = form.said()
    how: Any = {name: said[0][name] for name in said[0] if name not in ("kind", "between", "value")}
    try:
        made = measuring.measure(
            line=line, panel=panel, values={one["between"]: one["value"] for one in said}, how=how,
            visit=at_hand(request, line), batch=key_in(request.POST.get("batch")), **_now(request),
        )  # fmt: skip
    except Refused as refused:
        show_refusal(form, refused)
        return {"reading": form, "panel": panel}
    say(request, _("Recorded at %(panel)s: %(n)d.") % {"panel": panel.name, "n": len(made)})
    return None


def strike(request: SignedIn, line: CloseOutLine) -> Fault:
    reading = fetch(Reading, request.user, pk=request.POST.get("reading"), proves__line=line)
    facts = measuring.strike_reading(line=line, reading=reading, by=request.user)
    undo = reverse(
        "reading-put-back", args=[line.pk, signing.dumps(facts, salt=f"{STRUCK}.{line.pk}")]
    )
    said = {"between": reading.between, "value": f"{reading.value:g}"}
    say(request, _("Struck out: %(between)s %(value)s.") % said, undo=undo)
    return None


def issue(request: SignedIn, line: CloseOutLine) -> Fault:
    """The directories of the chosen panels of this site."""
    chosen = Panel.objects.filter(site=line.job.site_id, pk__in=_keys(request, "panel"))
    for panel in visible(chosen.order_by("name"), request.user):
        made = issue_directory(panel=panel, **_now(request))
        say(request, _("%(panel)s: directory revision %(n)d is issued.") % {
            "panel": panel.name, "n": made.number,
        })  # fmt: skip
    return None


def sign(request: SignedIn, line: CloseOutLine) -> Fault:
    form = SignForm(request.POST, auto_id=f"id_{line.pk}_%s")
    return _typed(form, _signing(request, line), "sign")


def absent(request: SignedIn, line: CloseOutLine) -> Fault:
    form = AbsentForm(request.POST, auto_id=f"id_{line.pk}_%s")
    return _typed(form, _signing(request, line), "absent")


def _signing(request: SignedIn, line: CloseOutLine) -> Callable[..., Any]:
    return partial(signatures.sign, job=line.job, visit=at_hand(request, line), **_now(request))


def unsign(request: SignedIn, line: CloseOutLine) -> Fault:
    signature = fetch(Signature.objects.select_related("job"), request.user, job=line.job_id)
    act = partial(signatures.take_back_signature, signature=signature, by=request.user)
    return _button(request, act)


ACTS: dict[str, Callable[[SignedIn, CloseOutLine], Fault]] = {
    act.__name__: act
    for act in (
        tick, untick, words, why_not, applies, measure, strike, issue, sign, absent, unsign,
    )
}  # fmt: skip
STAYS_OPEN = {"measure", "strike", "untick", "applies", "unsign"}  # there is more to do there


def answer(request: SignedIn, line: CloseOutLine) -> tuple[Fault, bool]:
    """What came of it, and whether the line stays open to go on."""
    name = request.POST.get("do", "")
    if name not in ACTS:
        raise Http404
    return ACTS[name](request, line), name in STAYS_OPEN


def with_faults(blanks: Blanks, fault: dict[str, Any]) -> Blanks:
    for name, value in fault.items():
        setattr(blanks, name, value)
        if isinstance(value, forms.Form):
            blanks.fault = value
    return blanks


def at_hand(request: SignedIn, line: CloseOutLine) -> Visit:
    visit = visit_at_hand(line.job, request.user)
    if visit is None:
        raise Refused("no_visit", _("This job has no visit. Ask the office to add one first."))
    return visit


def _now(request: SignedIn) -> dict[str, Any]:
    return {"by": request.user, "now": timezone.now()}


def _keys(request: SignedIn, name: str) -> list[uuid.UUID]:
    return [key for text in request.POST.getlist(name) if (key := key_in(text))]
