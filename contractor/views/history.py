"""What happened to a record: who changed what, when, from where."""

from __future__ import annotations

from django.core.exceptions import ValidationError
from django.db import models
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.urls import NoReverseMatch, reverse

from contractor.access import Right, SignedIn, needs
from contractor.queries import history as queries


@needs(Right.OFFICE)
def history(request: SignedIn, key: str, pk: str) -> HttpResponse:
    record = _record(key, pk)
    context = {
        "record": record,
        "kind": record._meta.verbose_name,
        "entries": queries.history(key, record),
        "back": _page_of(key, record),
        "most": queries.MOST,
    }
    return render(request, "contractor/history.html", context)


def _record(key: str, pk: str) -> models.Model:
    model = queries.model_of(key)
    try:
        found = model._default_manager.filter(pk=pk).first() if model else None
    except (ValidationError, ValueError) as error:
        raise Http404 from error
    if found is None:
        raise Http404
    return found


def _page_of(key: str, record: models.Model) -> str:
    """The record's own page, where it has one."""
    for arguments in ([record.pk], []):
        try:
            return reverse(key, args=arguments)
        except NoReverseMatch:
            continue
    return ""
