"""Which circuits of a site are backed up and in which order they are shed, in one form."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypedDict
from uuid import UUID

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext as _

from contractor.forms_rendering import Stepper
from contractor.models import Site
from panels.forms.panel import place_of
from panels.models import Circuit
from panels.queries import records


@dataclass(frozen=True, kw_only=True)
class Line:
    """One circuit of the list, with its tick and its number."""

    circuit: Circuit
    place: str
    keep: BoundField
    order: BoundField
    rev: BoundField


class Said(TypedDict):
    """What `backup.set_backup` takes."""

    backed_up: dict[UUID, int | None]
    revs: dict[UUID, int]


class BackupForm(forms.Form):
    """A tick and a number for each circuit that serves something; equal numbers go together."""

    def __init__(self, *args: Any, site: Site, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.circuits = list(records.breakers_at(site).exclude(kind=Circuit.Kind.SPARE))
        for circuit in self.circuits:
            self._ask(circuit)

    def _ask(self, circuit: Circuit) -> None:
        said = {"circuit": circuit, "place": place_of(circuit)}
        self.fields[f"keep-{circuit.pk}"] = forms.BooleanField(
            label=_("Back up %(circuit)s, %(place)s") % said,
            required=False,
            initial=circuit.backed_up,
        )
        self.fields[f"order-{circuit.pk}"] = forms.IntegerField(
            label=_("Shed order of %(circuit)s, %(place)s") % said,
            required=False,
            min_value=1,
            max_value=99,
            initial=circuit.shed_order,
            widget=Stepper,
        )
        self.fields[f"rev-{circuit.pk}"] = forms.IntegerField(
            widget=forms.HiddenInput, initial=circuit.rev
        )

    def lines(self) -> list[Line]:
        return [
            Line(
                circuit=circuit,
                place=place_of(circuit),
                keep=self[f"keep-{circuit.pk}"],
                order=self[f"order-{circuit.pk}"],
                rev=self[f"rev-{circuit.pk}"],
            )
            for circuit in self.circuits
        ]

    def said(self) -> Said:
        found = self.cleaned_data
        kept = [one for one in self.circuits if found[f"keep-{one.pk}"]]
        return {
            "backed_up": {one.pk: found[f"order-{one.pk}"] for one in kept},
            "revs": {one.pk: found[f"rev-{one.pk}"] for one in self.circuits},
        }
