"""Customers who may be the same: looked at, made one, or told apart."""

from __future__ import annotations

import uuid

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from contractor import ways_back
from contractor.access import Right, SignedIn, needs
from contractor.duplicates import likeness
from contractor.models import Customer
from contractor.queries.duplicates import likely_pairs, who
from contractor.queries.values import shown
from contractor.services import duplicates as services


@needs(Right.OFFICE)
def duplicates(request: SignedIn) -> HttpResponse:
    return render(request, "contractor/duplicates.html", {"pairs": likely_pairs()})


@needs(Right.OFFICE)
def compare(request: SignedIn, keep: uuid.UUID, drop: uuid.UUID) -> HttpResponse:
    """Both entries side by side: which one is kept, and what it takes from the other."""
    rows = Customer.objects.prefetch_related("sites")
    kept, dropped = get_object_or_404(rows, pk=keep), get_object_or_404(rows, pk=drop)
    if request.method == "POST":
        revs = (_number(request, "keep_rev"), _number(request, "drop_rev"))
        take = request.POST.getlist("take")
        services.merge_customers(
            keep=kept, drop=dropped, take=take, by=request.user, now=timezone.now(), revs=revs
        )
        messages.success(request, _("The two entries are one now."))
        return redirect("customer", keep)
    context = {"keep": kept, "drop": dropped, "fields": _fields(kept, dropped)}
    context["likeness"] = likeness(who(kept), who(dropped))
    return render(request, "contractor/compare.html", context)


@needs(Right.OFFICE)
@require_POST
def tell_apart(request: SignedIn, one: uuid.UUID, other: uuid.UUID) -> HttpResponse:
    rows = Customer.objects
    first, second = get_object_or_404(rows, pk=one), get_object_or_404(rows, pk=other)
    services.tell_apart(one=first, other=second, by=request.user)
    messages.success(request, _("Noted: these are two different customers."))
    return redirect(ways_back.back_to(request, reverse("duplicates")))


def _fields(kept: Customer, dropped: Customer) -> list[dict[str, object]]:
    """Every field of either entry; where they differ, `differs`; the fuller one is suggested."""
    columns = [column for column in Customer._meta.fields if column.name in services.CHOSEN]
    pairs = [
        (column, getattr(kept, column.name), getattr(dropped, column.name)) for column in columns
    ]
    return [
        {
            "name": column.name,
            "label": column.verbose_name,
            "keep": shown(column, mine),
            "drop": shown(column, theirs),
            "differs": (mine or "") != (theirs or ""),
            "take": bool(theirs) and not mine,
        }
        for column, mine, theirs in pairs
        if mine or theirs
    ]


def _number(request: HttpRequest, name: str) -> int:
    text = request.POST.get(name, "")
    return int(text) if text.isdecimal() and len(text) < 10 else 0
