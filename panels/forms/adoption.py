"""An adoption of the code with its local amendments, as an ordinance is read."""

from __future__ import annotations

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from contractor.forms_rendering import DayInput
from contractor.models import Authority
from panels.editions import EDITIONS
from panels.rules.adoption import said
from panels.rules.edition import values
from panels.rules.tables import Bands

SLICE = re.compile(r"^(\d+(?:\.\d+)?)\s*%\s*(?:to\s+(.+)|of the rest)$", re.IGNORECASE)
NUMBER = re.compile(r"^\d+(\.\d+)?$")
PERCENT = re.compile(r"^(\d+(?:\.\d+)?)\s*%$")


def amendable() -> list[tuple[str, str]]:
    """Every single value of an edition that a place can change, with its section."""
    newest = list(EDITIONS.values())[-1]
    return [
        (path, f"{said(path)} ({sourced.cite})")
        for path, sourced in values(newest)
        if not isinstance(sourced.value, Bands | tuple)
    ]


def read_value(text: str) -> Any:
    """“2 VA/ft2”, “75 %”, “4”, “yes”, or “100 % to 8000 VA; 40 % of the rest”, in plain values."""
    said = text.strip()
    if said.lower() in ("yes", "true", "no", "false"):
        return said.lower() in ("yes", "true")
    if NUMBER.match(said):
        return float(said) if "." in said else int(said)
    if found := PERCENT.match(said):
        return float(found[1]) / 100
    if ";" in said or SLICE.match(said):
        return [_slice(part.strip()) for part in said.split(";")]
    return said


def _slice(part: str) -> dict[str, Any]:
    found = SLICE.match(part)
    if not found:
        raise ValidationError(
            _("“%(part)s” is not a slice. Write 100 %% to 8000 VA; 40 %% of the rest.")
            % {"part": part}
        )
    factor = float(found[1]) / 100
    return {"up_to": found[2].strip(), "factor": factor} if found[2] else {"factor": factor}


def shown_value(value: Any) -> str:
    """The value as `read_value` reads it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return "; ".join(
            f"{one['factor'] * 100:g} % to {one['up_to']}"
            if one.get("up_to")
            else f"{one['factor'] * 100:g} % of the rest"
            for one in value
        )
    return str(value)


class AmendmentForm(forms.Form):
    field = forms.ChoiceField(
        label=gettext_lazy("What is changed"),
        choices=lambda: [("", gettext_lazy("nothing")), *amendable()],
    )
    value = forms.CharField(
        label=gettext_lazy("Its value there"),
        help_text=gettext_lazy("e.g. 2 VA/ft2; 75 %; 4; 100 % to 8000 VA; 40 % of the rest"),
    )
    source = forms.CharField(label=gettext_lazy("Where that is written"), max_length=200)

    def clean_value(self) -> Any:
        return read_value(self.cleaned_data["value"])


Amendments = forms.formset_factory(AmendmentForm, extra=2, max_num=20, can_delete=True)


class AdoptionForm(forms.Form):
    authority = forms.ModelChoiceField(
        label=gettext_lazy("Authority having jurisdiction"),
        queryset=Authority.objects.all(),
        required=False,
        empty_label=gettext_lazy("none: for a place"),
    )
    place = forms.CharField(
        label=gettext_lazy("Or a place"),
        required=False,
        max_length=120,
        help_text=gettext_lazy("A city and state, e.g. Harrow Mills, OH, or a state, e.g. OH."),
    )
    since = forms.DateField(label=gettext_lazy("In force since"), widget=DayInput)
    edition = forms.ChoiceField(
        label=gettext_lazy("Edition"),
        choices=lambda: [(edition.key, edition.title) for edition in EDITIONS.values()],
    )
    source = forms.CharField(
        label=gettext_lazy("Where this is written"),
        max_length=200,
        help_text=gettext_lazy("The ordinance or rule, so that it can be looked up."),
    )
