"""The moves that were shown, and that they have been made at the panel."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy


class MovesForm(forms.Form):
    """`moves` are signed, as `panels.views.balance.written` writes them."""

    moves = forms.CharField(widget=forms.HiddenInput)
    confirmed = forms.BooleanField(
        label=gettext_lazy(
            "The breakers have been moved like this, with the panel de-energized, by a "
            "qualified person."
        )
    )
