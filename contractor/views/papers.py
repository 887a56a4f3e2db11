"""What hangs on a person: licences, certificates, days away."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from contractor.access import Right, SignedIn, needs
from contractor.forms.attempt import attempt, page
from contractor.forms.people import AbsenceForm, CertificateForm, LicenceForm
from contractor.models import Absence, Certificate, Licence, Person
from contractor.services import people as services


@dataclass(frozen=True)
class Kind:
    model: Any
    form: type[forms.ModelForm]
    save: Callable[..., Any]
    argument: str
    add: str | Promise
    change: str | Promise
    remove: str | Promise


KINDS = {
    "licences": Kind(
        Licence, LicenceForm, services.save_licence, "licence",
        gettext_lazy("Add a licence"), gettext_lazy("Change the licence"),
        gettext_lazy("Remove this licence?"),
    ),
    "certificates": Kind(
        Certificate, CertificateForm, services.save_certificate, "certificate",
        gettext_lazy("Add a certificate"), gettext_lazy("Change the certificate"),
        gettext_lazy("Remove this certificate?"),
    ),
    "absences": Kind(
        Absence, AbsenceForm, services.save_absence, "absence",
        gettext_lazy("Add days away"), gettext_lazy("Change the days away"),
        gettext_lazy("Remove these days away?"),
    ),
}  # fmt: skip


@needs(Right.PEOPLE)
def paper(request: SignedIn, pk: uuid.UUID, kind: str, key: int | None = None) -> HttpResponse:
    asked, person = _asked(kind), get_object_or_404(Person, pk=pk)
    row = (
        get_object_or_404(asked.model, pk=key, person=person) if key else asked.model(person=person)
    )
    form = asked.form(request.POST or None, instance=row)
    if attempt(
        form, lambda _values: asked.save(by=request.user, **{asked.argument: form.instance})
    ):
        messages.success(request, _("Saved for %s.") % person)
        return redirect("person", pk)
    title = asked.change if key else asked.add
    return page(
        request, "contractor/paper_form.html", form, person=person, title=title, kind=kind, row=row
    )


@needs(Right.PEOPLE)
def remove_paper(request: SignedIn, pk: uuid.UUID, kind: str, key: int) -> HttpResponse:
    asked, person = _asked(kind), get_object_or_404(Person, pk=pk)
    row = get_object_or_404(asked.model, pk=key, person=person)
    if request.method == "POST":
        services.remove_paper(paper=row, by=request.user)
        messages.success(request, _("Removed from %s. The history keeps it.") % person)
        return redirect("person", pk)
    context: dict[str, Any] = {"what": asked.remove, "lines": [f"{person}: {row}"], "where": person}
    context |= {"action": _("Remove"), "back": reverse("person", args=[pk]), "is_danger": True}
    return render(request, "contractor/confirm.html", context)


def _asked(kind: str) -> Kind:
    if kind not in KINDS:
        raise Http404
    return KINDS[kind]
