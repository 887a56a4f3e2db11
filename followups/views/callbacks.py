"""Callbacks: who waits, since when, what brought us back, and what was done about it."""

from __future__ import annotations

import uuid

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from contractor.access import Right, SignedIn, fetch, needs
from contractor.errors import Invalid
from contractor.notices import say
from followups.forms import BookForm, CauseForm, CloseForm, WhatForm
from followups.models import Callback
from followups.queries import callbacks as queries
from followups.queries import replies
from followups.services import callbacks
from jobs.models import Job

A_PAGE = 50


@needs(Right.OFFICE)
@require_safe
def index(request: SignedIn) -> HttpResponse:
    lists = {"waiting": queries.waiting, "closed": queries.closed, "all": queries.callbacks}
    show = request.GET.get("show", "waiting")
    show = show if show in lists else "waiting"
    rows = queries.filtered(
        lists[show](), kind=request.GET.get("kind", ""), cause=request.GET.get("cause", "")
    )
    page = Paginator(rows, A_PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "show": show, "only": queries.filter_in_words(request.GET)}
    return render(request, "followups/callbacks.html", context)


@needs(Right.OFFICE)
def new(request: SignedIn) -> HttpResponse:
    """Someone telephoned: write it down for a job."""
    job = fetch(Job.objects.select_related("site"), request.user, pk=_uuid(request, "job"))
    form = WhatForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        callback = callbacks.open_callback(
            job=job, what=form.cleaned_data["what"], by=request.user, now=timezone.now()
        )
        say(request, _("Callback opened. The customer gets a mail that we know."))
        return redirect("callback", callback.pk)
    return render(
        request,
        "followups/callback_new.html",
        {"form": form, "job": job},
        status=422 if form.errors else 200,
    )


@needs(Right.OFFICE)
def one(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    """The callback, and its cause and note to be changed."""
    callback = fetch(queries.callbacks(), request.user, pk=pk)
    form = CauseForm(request.POST or None, initial=_as_noted(callback))
    if request.method == "POST" and form.is_valid():
        rev = int(request.POST["rev"]) if request.POST.get("rev", "").isdigit() else None
        callbacks.note(callback=callback, by=request.user, rev=rev, **form.cleaned_data)
        say(request, _("Noted."))
        return redirect("callback", pk)
    context = {
        "callback": callback,
        "form": form,
        "replies": replies.replies().filter(job=callback.job),
        "others": queries.callbacks().filter(job__site=callback.job.site).exclude(pk=pk)[:5],
    }
    return render(request, "followups/callback.html", context)


@needs(Right.OFFICE)
def book(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    callback = fetch(queries.callbacks(), request.user, pk=pk)
    initial = {"title": _("Callback: %(job)s") % {"job": callback.job.title}}
    form = BookForm(request.POST or None, initial=initial)
    if request.method == "POST" and form.is_valid():
        callback = callbacks.book_visit(
            callback=callback,
            title=form.cleaned_data["title"],
            by=request.user,
            now=timezone.now(),
        )
        say(request, _("Job %(number)s booked; now put a crew on it.") % _number(callback))
        return redirect("job", callback.booked_as_id)
    context = {"form": form, "callback": callback}
    return render(
        request, "followups/callback_book.html", context, status=422 if form.errors else 200
    )


@needs(Right.OFFICE)
def close(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    callback = fetch(queries.callbacks(), request.user, pk=pk)
    form = CloseForm(request.POST or None, initial=_as_noted(callback))
    if request.method == "POST" and form.is_valid():
        try:
            callbacks.close(
                callback=callback, by=request.user, now=timezone.now(), **form.cleaned_data
            )
        except Invalid as refusal:
            for name, sentence in refusal.fields.items():
                form.add_error(name, sentence)
        else:
            say(request, _("Callback closed."), undo=reverse("callback-reopen", args=[pk]))
            return redirect("callbacks")
    return render(
        request,
        "followups/callback_close.html",
        {"form": form, "callback": callback},
        status=422 if form.errors else 200,
    )


@needs(Right.OFFICE)
@require_POST
def reopen(request: SignedIn, pk: uuid.UUID) -> HttpResponse:
    callback = fetch(Callback, request.user, pk=pk)
    callbacks.reopen(callback=callback, by=request.user)
    say(request, _("The callback is open again."))
    return redirect("callback", pk)


def _as_noted(callback: Callback) -> dict[str, str]:
    return {
        "cause": callback.cause,
        "cause_text": callback.cause_text,
        "text": callback.note,
        "resolution": callback.resolution,
    }


def _number(callback: Callback) -> dict[str, object]:
    return {"number": callback.booked_as.number if callback.booked_as else ""}


def _uuid(request: SignedIn, name: str) -> uuid.UUID | None:
    try:
        return uuid.UUID(request.GET.get(name, ""))
    except ValueError:
        return None
