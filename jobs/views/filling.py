"""How does every blank of this room go: show it, try it, say so, go back?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from django import forms
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.dateparse import parse_date
from django.utils.translation import gettext_lazy as _

from contractor.access import SignedIn
from contractor.notices import say
from jobs.forms.blank import Blank

F = TypeVar("F", bound=forms.BaseForm)
Trail = list[tuple[Any, str]]


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
