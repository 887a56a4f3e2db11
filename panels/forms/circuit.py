"""A circuit as it is asked for, on its own page."""

from __future__ import annotations

from typing import Any, ClassVar, cast

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from contractor.errors import Refused
from contractor.forms.revised import RevisedForm
from contractor.forms_rendering import Segmented, Ticks
from panels.models import Circuit, Panel
from panels.queries import records
from panels.rules.places import Place, read_place
from panels.rules.rooms import Room

WIRING = (
    "wire_size", "wire_material", "length_ft", "wire_sets", "raceway", "insulation_c",
    "terminal_c", "bundled", "ambient_c", "neutral_size", "ground_size", "tap_rule",
)  # fmt: skip
BREAKER = ("protection", "interrupting_ka", "full_rated", "multiwire", "tied", "grouped", "locked")
# Folded away on the page as long as nothing is said in them.
SELDOM = {
    "is_less_usual": ("tied", "grouped", "full_rated", "locked"),
    "tells_more_of_wiring": WIRING[WIRING.index("length_ft") + 1 :],
}
USE = ("serves", "areas", "backed_up", "shed_order")
DETAILS = (*BREAKER, *WIRING, *USE, "notes")
COLUMNS = ("kind", "rating_a", "name", *DETAILS)
HELP = {
    "name": gettext_lazy("What and where, so that no two are alike: Bedroom receptacles, north."),
    "multiwire": gettext_lazy("The same letter on circuits that share a neutral."),
    "wire_size": gettext_lazy("12, 6, 2/0, 250 ..."),
    "terminal_c": gettext_lazy("The lower marking of the two ends. Empty: as the code assumes."),
    "bundled": gettext_lazy("In one raceway or cable run. Empty: three or fewer."),
    "ambient_c": gettext_lazy("Empty: 30 °C."),
    "full_rated": gettext_lazy("Only where the breaker and its enclosure say so."),
    "tied": gettext_lazy("Single poles of a multiwire group that switch off together."),
    "grouped": gettext_lazy("A multiwire group: in one cable, or tied together in the panel."),
    "locked": gettext_lazy("Never proposed for another space when the legs are balanced."),
}


class CircuitForm(RevisedForm):
    """`place` says spaces and poles at once, as a schedule does: 5, or 1,3, or 5a."""

    place = forms.CharField(
        label=gettext_lazy("Spaces"),
        max_length=20,
        help_text=gettext_lazy("5 is one pole, 1,3 two poles, 5a the upper half of a tandem."),
    )
    swap = forms.BooleanField(
        label=gettext_lazy("Change places with the breaker that sits there"), required=False
    )
    feeds = forms.ModelChoiceField(
        label=gettext_lazy("Panel it feeds"),
        queryset=Panel.objects.none(),
        required=False,
        empty_label=gettext_lazy("None on record"),
    )
    areas = forms.MultipleChoiceField(
        label=gettext_lazy("Rooms it serves"),
        choices=[(room.value, room.label) for room in Room],
        widget=Ticks,
        required=False,
        help_text=gettext_lazy("What arc-fault and ground-fault protection depends on."),
    )
    field_order = ("place", "swap", "rating_a", "kind", "name", "feeds")

    class Meta:
        model = Circuit
        fields = COLUMNS
        help_texts = HELP
        widgets: ClassVar = {
            "kind": Segmented,
            "wire_material": Segmented,
            "serves": Segmented,
            "areas": Ticks,
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["wire_sets"].required = False
        self.frame = self.instance.panel.frame
        self.initial["place"] = self.instance.seat_in(self.frame).text
        self.initial["feeds"] = records.fed_by(self.instance)
        feeds = cast("forms.ModelChoiceField[Panel]", self.fields["feeds"])
        feeds.queryset = records.could_feed(self.instance)

    @property
    def is_less_usual(self) -> bool:
        return self._says("is_less_usual")

    @property
    def tells_more_of_wiring(self) -> bool:
        return self._says("tells_more_of_wiring")

    def _says(self, folded: str) -> bool:
        """True when a folded field has an error or more than what goes by itself."""
        names = SELDOM[folded]
        plain = (None, "", False, 1, "1")
        return any(self[name].errors or self[name].value() not in plain for name in names)

    def clean_wire_sets(self) -> int:
        return self.cleaned_data["wire_sets"] or 1

    def clean_place(self) -> Place:
        try:
            return read_place(self.frame, self.cleaned_data["place"])
        except Refused as refusal:
            raise forms.ValidationError(refusal.sentence) from refusal

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if cleaned.get("feeds") and cleaned.get("kind") != Circuit.Kind.FEEDER:
            self.add_error("kind", _("A breaker that feeds a panel is a feeder."))
        return cleaned

    @property
    def values(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in COLUMNS}

    def changes(self) -> dict[str, Any]:
        """What `circuits.change_circuit` takes."""
        place: Place = self.cleaned_data["place"]
        half = place.half.value if place.half else ""
        return {**self.values, "space": place.space, "poles": place.poles, "half": half}
