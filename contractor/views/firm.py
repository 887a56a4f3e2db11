"""The firm's own settings, and the short lists it keeps."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django import forms
from django.contrib import messages
from django.db.models import Model
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from contractor import queries
from contractor.access import Right, SignedIn, needs
from contractor.forms.attempt import attempt, page
from contractor.forms.firm import AuthorityForm, CertificateKindForm, FirmForm, UtilityForm
from contractor.models import Authority, CertificateKind, Firm, Utility
from contractor.services import firm as services


@dataclass(frozen=True)
class ShortList:
    """A list of a handful of entries that other rows choose from."""

    title: str | Promise
    why: str | Promise
    add: str | Promise
    model: type[Model]
    form: type[forms.ModelForm]


LISTS = {
    "authorities": ShortList(
        gettext_lazy("Authorities"),
        gettext_lazy("Who issues permits and inspects the work, and how long a permit stays good."),
        gettext_lazy("Add an authority"),
        Authority,
        AuthorityForm,
    ),
    "utilities": ShortList(
        gettext_lazy("Utilities"),
        gettext_lazy("Whose conductors end at the service, and whom to call for a cut-over."),
        gettext_lazy("Add a utility"),
        Utility,
        UtilityForm,
    ),
    "certificates": ShortList(
        gettext_lazy("Certificate kinds"),
        gettext_lazy("Trainings and manufacturers’ certificates that some work asks for."),
        gettext_lazy("Add a certificate kind"),
        CertificateKind,
        CertificateKindForm,
    ),
}


@needs(Right.FIRM)
def firm(request: SignedIn) -> HttpResponse:
    form = FirmForm(request.POST or None, instance=queries.firm() or Firm(pk=1))
    by = request.user
    if attempt(form, lambda values: services.change_firm(values=values, by=by)):
        messages.success(request, _("The firm’s settings are saved."))
        return redirect("firm")
    return page(request, "contractor/firm.html", form, lists=LISTS)


@needs(Right.OFFICE)
def entries(request: SignedIn, kind: str) -> HttpResponse:
    listed = _list(kind)
    rows = listed.model._default_manager.all()
    return render(
        request,
        "contractor/entries.html",
        {"list": listed, "kind": kind, "rows": rows, "lists": LISTS},
    )


@needs(Right.OFFICE)
def entry(request: SignedIn, kind: str, pk: int | None = None) -> HttpResponse:
    listed = _list(kind)
    row: Any = get_object_or_404(listed.model, pk=pk) if pk else listed.model()
    form = listed.form(request.POST or None, instance=row)
    by = request.user
    if attempt(form, lambda values: services.save_entry(entry=row, values=values, by=by)):
        messages.success(request, _("“%s” is saved.") % row)
        return redirect("entries", kind)
    return page(request, "contractor/entry_form.html", form, list=listed, kind=kind, row=row)


def _list(kind: str) -> ShortList:
    if kind not in LISTS:
        raise Http404
    return LISTS[kind]
