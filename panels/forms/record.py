"""The one form of recording by thumb: size, rating and name of the breaker in the chosen space."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any, cast

from django import forms
from django.forms.models import fields_for_model
from django.utils.translation import gettext_lazy as _

from contractor.forms_rendering import Segmented
from panels.models import Circuit, Panel
from panels.queries import records
from panels.rules.filling import Fit, Size
from panels.rules.layout import Half

# Within a thumb's reach; any other rating is typed. Common practice, no source.
RATINGS = (15, 20, 25, 30, 40, 50, 60, 70, 80, 100, 125)
KEY_LABELS = {
    Size.ONE: _("1-pole"),
    Size.TWO: _("2-pole"),
    Size.THREE: _("3-pole"),
    Size.TANDEM: _("tandem"),
    Size.QUAD: _("quad 2-pole"),
}
DETAILS = (
    "protection", "wire_size", "wire_material", "length_ft", "multiwire", "backed_up",
    "shed_order", "notes",
)  # fmt: skip
FIRST = {"size": Size.ONE.value, "rating": "20", "kind": Circuit.Kind.BRANCH.value}


@dataclass(frozen=True, kw_only=True)
class Key:
    """One size to press."""

    size: Size
    spaces: str
    legs: str
    why: str
    is_chosen: bool

    @property
    def label(self) -> str:
        return str(KEY_LABELS[self.size])

    @property
    def leg_list(self) -> list[str]:
        return self.legs.split()


class RecordForm(forms.Form):
    """`pick` is the name on the key that was pressed; it wins over what was typed."""

    id = forms.UUIDField(widget=forms.HiddenInput)
    space = forms.IntegerField(widget=forms.HiddenInput)
    half = forms.ChoiceField(
        widget=forms.HiddenInput,
        required=False,
        choices=[("", ""), *((half.value, half.label) for half in Half)],
    )
    size = forms.ChoiceField(label=_("Breaker"), widget=Segmented)
    rating = forms.ChoiceField(label=_("Rating, A"), widget=Segmented, required=False)
    other = forms.IntegerField(
        label=_("Other rating, A"), required=False, min_value=1, max_value=6000
    )
    kind = forms.ChoiceField(label=_("What hangs on it"), widget=Segmented)
    name = forms.CharField(label=_("What it serves"), max_length=80, required=False)
    pick = forms.CharField(max_length=80, required=False, widget=forms.HiddenInput)
    feeds = forms.ModelChoiceField(
        label=_("Panel it feeds"),
        queryset=Panel.objects.none(),
        required=False,
        empty_label=_("Not on record yet"),
    )
    vars().update(fields_for_model(Circuit, fields=DETAILS, widgets={"wire_material": Segmented}))

    def __init__(self, *args: Any, panel: Panel, fits: list[Fit], **kwargs: Any) -> None:
        kwargs["initial"] = {**FIRST, "id": uuid.uuid4(), **kwargs.get("initial", {})}
        super().__init__(*args, **kwargs)
        self.fits = {fit.size.value: fit for fit in fits}
        cast(forms.ChoiceField, self.fields["size"]).choices = [
            (fit.size.value, fit.size.label) for fit in fits
        ]
        before = kwargs["initial"].get("rating")
        offered = {*RATINGS, int(before)} if before else RATINGS
        cast(forms.ChoiceField, self.fields["rating"]).choices = [
            (str(rating), str(rating)) for rating in sorted(offered) if rating <= panel.bus_a
        ]
        cast(forms.ChoiceField, self.fields["kind"]).choices = Circuit.Kind.choices
        feeds = cast("forms.ModelChoiceField[Panel]", self.fields["feeds"])
        feeds.queryset = records.unfed(panel.site, but=panel)
        self.fields["name"].widget.attrs |= {
            "list": "names",
            "autocomplete": "off",
            "enterkeyhint": "done",
            "autocapitalize": "sentences",
        }

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if not (cleaned.get("other") or cleaned.get("rating")):
            self.add_error("rating", _("Choose the rating on the handle, or type it."))
        return cleaned

    def chosen(self) -> tuple[int, int]:
        """(rating, poles) as the form stands, filled or not."""
        rating = str(self["other"].value() or self["rating"].value() or "0")
        size = str(self["size"].value())
        known = size in set(Size)
        return int(rating) if rating.isdecimal() else 0, Size(size).poles if known else 1

    def keys(self) -> list[Key]:
        """The sizes as keys to press: where each would sit, or why it does not fit."""
        chosen = str(self["size"].value())
        return [
            Key(
                size=fit.size,
                spaces=fit.seat.text if fit.seat else "",
                legs=" ".join(fit.seat.legs) if fit.seat else "",
                why=fit.why,
                is_chosen=fit.size.value == chosen,
            )
            for fit in self.fits.values()
        ]

    @property
    def has_details(self) -> bool:
        """Something was typed, or is wrong, among the folded details."""
        return self.is_bound and any(self.data.get(name) or self[name].errors for name in DETAILS)

    def breaker(self) -> dict[str, Any]:
        """What `circuits.put_breaker` takes."""
        said = self.cleaned_data
        size = Size(said["size"])
        fit = self.fits.get(size.value)
        half = fit.half.value if fit and fit.half else ("a" if size.is_half else "")
        feeder = said["kind"] == Circuit.Kind.FEEDER
        return {
            "id": said["id"],
            "space": said["space"],
            "half": half,
            "poles": size.poles,
            "rating_a": said["other"] or int(said["rating"]),
            "kind": said["kind"],
            "name": said["pick"] or said["name"],
            "feeds": said["feeds"] if feeder else None,
            **{name: said[name] for name in DETAILS},
        }
