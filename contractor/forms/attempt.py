"""Try to save what a form holds; put what the service says back on the form."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from contractor.errors import Refused, Stale
from contractor.forms.revised import RevisedForm

T = TypeVar("T")


def attempt(form: forms.BaseForm, save: Callable[[dict[str, Any]], T]) -> T | None:
    """What `save` makes of the form's values, or None when the form has something to say."""
    if not (form.is_bound and form.is_valid()):
        return None
    try:
        return save(dict(form.cleaned_data))
    except Stale:
        if not isinstance(form, RevisedForm):
            raise
        form.show_meanwhile()
    except Refused as refusal:
        show_refusal(form, refusal)
    return None


def show_refusal(form: forms.BaseForm, refusal: Refused) -> None:
    """Each sentence at its field; what belongs to no field of this form leads the form."""
    here = {field: told for field, told in refusal.fields.items() if field in form.fields}
    for field, told in here.items():
        form.add_error(field, told)
    if not here:
        form.add_error(None, refusal.sentence)


def page(request: HttpRequest, template: str, form: forms.BaseForm, **context: Any) -> HttpResponse:
    """The page with the form on it: 422 when the form sends its reader back to it."""
    status = 422 if form.is_bound and form.errors else 200
    return render(request, template, {"form": form, **context}, status=status)
