"""How does every blank of this room go: show it, try it, say so, go back?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from typing import Any, TypeAlias, TypeVar

from django import forms
from django.http import HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.dateparse import parse_date
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_POST

from contractor.access import Right, SignedIn, needs
from contractor.notices import say
from contractor.ways_back import back_to
from jobs.forms.blank import Blank
from jobs.models import Inspection, Job, Permit

OfJob: TypeAlias = Permit | Inspection
F = TypeVar("F", bound=forms.BaseForm)
R = TypeVar("R", bound=OfJob)
Trail = list[tuple[Any, str]]


def trail(job: Job | None = None) -> Trail:
    """The way to a job, or to the list of them."""
    jobs: Trail = [(_("Jobs"), reverse("jobs"))]
    return [*jobs, (str(job.number), reverse("job", args=[job.pk]))] if job else jobs


def blank(request: SignedIn, form: type[F], **more: Any) -> F:
    """The form, bound when something was sent."""
    if request.method == "POST":
        return form(request.POST, **more)
    return form(**more)


def fill_in(
    request: SignedIn,
    form: Blank,
    act: Callable[..., Any],
    *,
    what: Any,
    done: Any,
    back: str,
    trail: Trail,
    action: Any = "",
    where: str = "",
    undo: str | None = None,
    instead: tuple[str, Any] | None = None,
) -> HttpResponse:
    """One blank on a page of its own; a refusal comes back with what was typed.

    `instead` is an address to POST to and the words on its button: the other way out.
    """
    if request.method == "POST" and form.is_valid() and form.try_to(act):
        say(request, done, undo=undo)
        return redirect(back)
    page = {
        "form": form,
        "what": what,
        "where": where,
        "back": back,
        "action": action,
        "instead": instead,
        "trail": [*trail, (what, "")],
    }
    return render(request, "jobs/fill_in.html", page, status=422 if form.errors else 200)


def fill_in_of(
    request: SignedIn, row: OfJob, form: Blank, act: Callable[..., Any], **words: Any
) -> HttpResponse:
    """A blank about a permit or an inspection; it leads back to the page that offered it."""
    back = back_to(request, _permits_of(row))
    where = row.job.site.address
    return fill_in(request, form, act, back=back, trail=trail(row.job), where=where, **words)


def at_once(
    name: str,
    find: Callable[[SignedIn, int], R],
    service: Callable[..., R],
    done: Any,
    undo: str = "",
) -> Callable[..., HttpResponseBase]:
    """A view for what needs no answers: POST, done, back to the job's permits.

    `name` is what the service calls the row that `find` gets; `undo` names the page that takes
    it back.
    """

    @require_POST
    @needs(Right.OFFICE)
    def view(request: SignedIn, pk: int) -> HttpResponse:
        row = service(**{name: find(request, pk)}, by=request.user)
        say(request, done, undo=reverse(undo, args=[pk]) if undo else None)
        return redirect(_permits_of(row))

    return view


def _permits_of(row: OfJob) -> str:
    return f"{reverse('job', args=[row.job_id])}#permits"


def ask_first(
    request: SignedIn, what: Any, *, back: str, lines: Sequence[Any] = (), action: Any = ""
) -> HttpResponse:
    """The plain question before something is removed; it posts to its own address."""
    page = {
        "what": what,
        "lines": lines,
        "action": action or _("Remove it"),
        "back": back,
        "is_danger": True,
    }
    return render(request, "contractor/confirm.html", page)


def day_named(text: str) -> dt.date | None:
    """The day an address names; nonsense, and a day no plan reaches, names none."""
    try:
        day = parse_date(text)
    except ValueError:
        return None
    return day if day and dt.MINYEAR + 1 < day.year < dt.MAXYEAR - 1 else None
