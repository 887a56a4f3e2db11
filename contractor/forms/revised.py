"""A form that knows which revision it was filled in from, and shows what changed since."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _

from contractor.queries.history import as_of
from contractor.queries.values import shown
from contractor.stale import Meanwhile, three_way


class RevisedForm(forms.ModelForm):
    """A hidden `rev` goes out and comes back. When it is old, nothing is saved: the form comes
    back joined with what someone else saved, each of their changes named."""

    rev = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["rev"].initial = self.instance.rev
        self.meanwhile: list[dict[str, Any]] = []

    @property
    def values(self) -> dict[str, Any]:
        """What was typed, in the model's own form: a phone number as it is kept."""
        return {name: getattr(self.instance, name) for name in self.cleaned_data if name != "rev"}

    def show_meanwhile(self) -> None:
        current = type(self.instance)._default_manager.get(pk=self.instance.pk)
        base = as_of(self.instance, self.cleaned_data["rev"]) or current
        mine = self.values
        joined, told = three_way(base=_of(base, mine), theirs=_of(current, mine), mine=mine)
        prefix = f"{self.prefix}-" if self.prefix else ""
        typed = self.data.copy()  # a QueryDict, once sent
        for name, value in joined.items():
            typed[prefix + name] = self.fields[name].prepare_value(_plain(value))
        typed[f"{prefix}rev"] = current.rev
        self.data = typed
        self.meanwhile = [self._told(change) for change in told]
        self.add_error(
            None,
            _("Someone else changed this while you had it open. Look through it and save again."),
        )

    def _told(self, change: Meanwhile) -> dict[str, Any]:
        column = self.instance._meta.get_field(change.field)
        words = {key: shown(column, getattr(change, key)) for key in ("was", "now", "typed")}
        return {"label": self.fields[change.field].label, "clashes": change.clashes, **words}


def _of(record: Any, names: dict[str, Any]) -> dict[str, Any]:
    return {name: getattr(record, name) for name in names}


def _plain(value: Any) -> Any:
    return "" if value is None else getattr(value, "pk", value)
