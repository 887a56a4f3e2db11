"""A panel as it is asked for: its nameplate, where it is, and what feeds it."""

from __future__ import annotations

from typing import Any, ClassVar, TypedDict, cast

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from contractor.forms.revised import RevisedForm
from contractor.forms_rendering import Choices, DayInput, Segmented
from contractor.models import Site
from panels.models import Circuit, Panel
from panels.queries import records
from panels.rules.layout import Numbering

SERVICE = "service"
IDENTITY = ("name", "location")
RATINGS = ("rating_a", "main_a", "bus_a", "interrupting_ka")
BACKPLATE = ("spaces", "numbering", "tandem_spaces", "feed_through_lugs")
SUPPLY = (
    "supply_marked", "fault_marked_ka", "fault_marked_on", "transformer_kva",
    "transformer_z_percent", "transformer_xr", "secondary_protected_a",
)  # fmt: skip
REST = ("mounting", "outdoors", "directory_at", "notes")
NAMEPLATE = (*IDENTITY, "system", *RATINGS, *BACKPLATE, *SUPPLY, *REST)
HELP = {
    "name": gettext_lazy("What the door says, e.g. Main panel, Garage panel."),
    "location": gettext_lazy("So that someone who was never here finds it in the dark."),
    "main_a": gettext_lazy("Empty where it has main lugs only."),
    "bus_a": gettext_lazy("Empty where it is the panel rating."),
    "spaces": gettext_lazy("Full-size spaces, as many as there are knockouts."),
    "directory_at": gettext_lazy("Where the printed directory hangs, e.g. inside the door."),
}


class Feed(TypedDict):
    """What feeds a panel, as the services take it."""

    circuit: Circuit | None
    through: Panel | None


class PanelForm(RevisedForm):
    """The nameplate and what feeds it; what does not fit is said by the service at its field."""

    fed = forms.ChoiceField(label=gettext_lazy("Fed from"), widget=Choices, initial=SERVICE)

    class Meta:
        model = Panel
        fields = NAMEPLATE
        help_texts = HELP
        widgets: ClassVar = {
            "mounting": Segmented,
            "numbering": Choices,
            "fault_marked_on": DayInput,
            "notes": forms.Textarea({"rows": 2}),
        }

    def __init__(self, *args: Any, site: Site, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        panel = None if self.instance._state.adding else self.instance
        if panel is not None:
            self.initial["fed"] = fed_key(panel)
        self.fields["bus_a"].required = False
        cast(forms.ChoiceField, self.fields["numbering"]).choices = [
            (one.value, one.label) for one in Numbering
        ]
        self._circuits = {str(one.pk): one for one in records.feeders_free(site, but=panel)}
        self._lugs = {
            str(one.pk): one
            for one in site.panels.filter(retired_at=None, feed_through_lugs=True)
            if panel is None or one.pk != panel.pk
        }
        cast(forms.ChoiceField, self.fields["fed"]).choices = self._feeds()

    def _feeds(self) -> list[tuple[str, str]]:
        breakers = [
            (key, f"{one.panel}, {place_of(one)}: {one}, {one.rating_a} A")
            for key, one in self._circuits.items()
        ]
        lugs = [
            (key, _("feed-through lugs of %(panel)s") % {"panel": one})
            for key, one in self._lugs.items()
        ]
        return [(SERVICE, _("the service")), *breakers, *lugs]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        cleaned["bus_a"] = cleaned.get("bus_a") or cleaned.get("rating_a")
        return cleaned

    @property
    def values(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in NAMEPLATE}

    def feed(self) -> Feed:
        """What feeds it, as `feeders.feed_panel` takes it."""
        key = self.cleaned_data["fed"]
        return {"circuit": self._circuits.get(key), "through": self._lugs.get(key)}


def fed_key(panel: Panel) -> str:
    return str(panel.fed_from_id or panel.fed_through_id or SERVICE)


def place_of(circuit: Circuit) -> str:
    return circuit.seat_in(circuit.panel.frame).text
