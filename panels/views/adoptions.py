"""Which edition is in force where: the list the office keeps."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.forms import BaseFormSet
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from contractor.access import Right, SignedIn, fetch, needs
from contractor.forms import attempt as forms
from contractor.notices import say
from panels.editions import EDITIONS
from panels.forms.adoption import AdoptionForm, Amendments, shown_value
from panels.models import Adoption
from panels.queries import governed, recalculations
from panels.services import adoptions
from panels.views.panels import ASK

ROUNDS = 20
ADOPTIONS = Adoption.objects.select_related("authority")


@require_safe
@needs(Right.OFFICE)
def page(request: SignedIn) -> HttpResponse:
    rows = [(row, _amended(row)) for row in ADOPTIONS.all()]
    context = {
        "rows": rows,
        "editions": EDITIONS.values(),
        "rounds": recalculations.rounds()[:ROUNDS],
        "trail": [(_("Adoptions"), "")],
    }
    return render(request, "panels/adoptions.html", context)


@ASK
@needs(Right.OFFICE)
def add(request: SignedIn) -> HttpResponse:
    return _edit(request, None)


@ASK
@needs(Right.OFFICE)
def change(request: SignedIn, pk: UUID) -> HttpResponse:
    return _edit(request, fetch(ADOPTIONS, request.user, pk=pk))


@ASK
@needs(Right.OFFICE)
def remove(request: SignedIn, pk: UUID) -> HttpResponse:
    found = fetch(ADOPTIONS, request.user, pk=pk)
    if request.method == "POST":
        adoptions.remove_adoption(adoption=found, by=request.user)
        say(request, _("%(adoption)s is off the record.") % {"adoption": found})
        return redirect("adoptions")
    context = {
        "what": _("Take %(adoption)s off the record?") % {"adoption": found},
        "lines": [_("Calculations that were made by it stay as they are.")],
        "action": _("Take it off"),
        "back": reverse("adoptions"),
        "is_danger": True,
        "where": found.where,
    }
    return render(request, "contractor/confirm.html", context)


def _edit(request: SignedIn, found: Adoption | None) -> HttpResponse:
    form = AdoptionForm(request.POST or None, initial=_initial(found))
    rows = Amendments(request.POST or None, initial=_amendments(found), prefix="amendments")

    def save(said: dict[str, Any]) -> Adoption:
        return adoptions.record_adoption(
            adoption=found, amendments=_said(rows), by=request.user, **said
        )

    if not rows.is_bound or rows.is_valid():
        made = forms.attempt(form, save)
        if made:
            say(request, _("%(adoption)s is on record.") % {"adoption": made})
            homes, _editions = governed.touched(made)
            return redirect("recalculate", pk=made.pk) if homes else redirect("adoptions")
    trail = [(_("Adoptions"), reverse("adoptions")), (str(found or _("Add")), "")]
    status = 422 if rows.is_bound else 200
    context = {"form": form, "rows": rows, "adoption": found, "trail": trail}
    return render(request, "panels/adoption_form.html", context, status=status)


def _said(rows: BaseFormSet) -> list[dict[str, Any]]:
    filled = [form for form in rows if form.cleaned_data and form not in rows.deleted_forms]
    return [
        {name: form.cleaned_data[name] for name in ("field", "value", "source")} for form in filled
    ]


def _initial(found: Adoption | None) -> dict[str, Any]:
    names = ("authority", "place", "since", "edition", "source")
    return {name: getattr(found, name) for name in names} if found else {}


def _amendments(found: Adoption | None) -> list[dict[str, Any]]:
    kept = found.amendments if found else []
    return [{**one, "value": shown_value(one["value"])} for one in kept]


def _amended(row: Adoption) -> list[str]:
    return [
        f"{one['field']}: {shown_value(one['value'])} ({one['source']})" for one in row.amendments
    ]
