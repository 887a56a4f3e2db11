"""Callbacks: who waits, since when, what brought us back, and what was done about it."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import Any

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms.attempt import attempt, page
from contractor.keys import key_in
from contractor.notices import say
from followups.forms import BookForm, CauseForm, CloseForm, WhatForm
from followups.models import Callback
from followups.queries import callbacks as queries
from followups.queries import replies, timing
from followups.services import callbacks
from jobs.models import Job
from jobs.views.filling import day_named

A_PAGE = 50


@needs(Right.OFFICE)
@require_safe
def index(request: SignedIn) -> HttpResponse:
    lists = {"waiting": queries.waiting, "closed": queries.closed, "all": queries.callbacks}
    show = request.GET.get("show", "waiting")
    show = show if show in lists else "waiting"
    opened, closed = (
        day_named(request.GET.get(name, "")) for name in ("opened_since", "closed_since")
    )
    rows = queries.filtered(
        lists[show](),
        kind=request.GET.get("kind", ""),
        cause=request.GET.get("cause", ""),
        opened_since=_begin(opened) if opened else None,
        closed_since=_begin(closed) if closed else None,
    )
    found = Paginator(rows, A_PAGE).get_page(request.GET.get("page"))
    only = queries.filter_in_words(request.GET, opened_since=opened, closed_since=closed)
    context = {"page": found, "show": show, "only": only}
    return render(request, "followups/callbacks.html", context)


def _begin(day: dt.date) -> dt.datetime:
    return dt.datetime.combine(day, dt.time(), timing.the_firm().zone)


@needs(Right.OFFICE)
def new(request: SignedIn) -> HttpResponse:
    """Someone telephoned: write it down for a job."""
    job = fetch(Job.objects.select_related("site"), request.user, pk=key_in(request.GET.get("job")))
    form, by, now = WhatForm(request.POST or None), request.user, timezone.now()
    callback = attempt(form, lambda v: callbacks.open_callback(job=job, by=by, now=now, **v))
    if callback is None:
        return page(request, "followups/callback_new.html", form, job=job)
    say(request, _("Callback opened. The customer gets a mail that we know."))
    return redirect("callback", callback.pk)


@needs(Right.OFFICE)
def one(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    """The callback, and its cause and note to be changed."""
    callback = fetch(queries.callbacks(), request.user, pk=pk)
    form = CauseForm(request.POST or None, instance=callback)
    if attempt(form, lambda values: _note(request, callback, values)):
        say(request, _("Noted."))
        return redirect("callback", pk)
    context = {
        "callback": callback,
        "replies": replies.replies().filter(job=callback.job),
        "others": queries.callbacks().filter(job__site=callback.job.site).exclude(pk=pk)[:5],
    }
    return page(request, "followups/callback.html", form, **context)


def _note(request: SignedIn, callback: Callback, values: dict[str, Any]) -> Callback:
    rev = values.pop("rev") or 0
    return callbacks.note(callback=callback, by=request.user, rev=rev, **values)


@needs(Right.OFFICE)
def book(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    callback = fetch(queries.callbacks(), request.user, pk=pk)
    initial = {"title": _("Callback: %(job)s") % {"job": callback.job.title}}
    form, by, now = BookForm(request.POST or None, initial=initial), request.user, timezone.now()
    booked = attempt(
        form, lambda typed: callbacks.book_visit(callback=callback, by=by, now=now, **typed)
    )
    if booked is None:
        return page(request, "followups/callback_book.html", form, callback=callback)
    say(request, _("Job %(number)s booked; now put a crew on it.") % _number(booked))
    return redirect("job", booked.booked_as_id)


@needs(Right.OFFICE)
def close(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    callback = fetch(queries.callbacks(), request.user, pk=pk)
    initial = {name: getattr(callback, name) for name in CloseForm.base_fields}
    form, by, now = CloseForm(request.POST or None, initial=initial), request.user, timezone.now()
    if attempt(form, lambda typed: callbacks.close(callback=callback, by=by, now=now, **typed)):
        say(request, _("Callback closed."), undo=reverse("callback-reopen", args=[pk]))
        return redirect("callbacks")
    return page(request, "followups/callback_close.html", form, callback=callback)


@needs(Right.OFFICE)
@require_POST
def reopen(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    callback = fetch(Callback, request.user, pk=pk)
    callbacks.reopen(callback=callback, by=request.user)
    say(request, _("The callback is open again."))
    return redirect("callback", pk)


def _number(callback: Callback) -> dict[str, object]:
    return {"number": callback.booked_as.number if callback.booked_as else ""}
