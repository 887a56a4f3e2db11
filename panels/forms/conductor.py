"""A conductor as it is asked about: the circuit, what is or may be installed, and the edition."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.forms_rendering import Segmented
from panels.forms.load import BasisForm, editions
from panels.rules.wire.conditions import COLUMNS, TERMINALS
from panels.rules.wire.sizes import SIZES

VOLTS = ("120", "208", "240", "277", "480")
NOT_STATED = _("not stated")
RACEWAYS = (
    ("pvc", _("nonmetallic or cable")),
    ("al", _("aluminum")),
    ("steel", _("steel")),
    ("", NOT_STATED),
)
AMPERES = ("device", "continuous", "noncontinuous")
WHOLE = ("phases", "insulation", "terminal")
CONDITIONS = ("metal", "sets", "insulation", "terminal", "ambient", "bundled")
RUN = ("length", "volts", "phases", "raceway", "power_factor")


def _sizes(empty: Any) -> list[tuple[str, Any]]:
    return [("", empty), *((size.name, size.label) for size in SIZES)]


def _degrees(columns: tuple[int, ...]) -> list[tuple[str, Any]]:
    return [("", NOT_STATED), *((str(column), f"{column} °C") for column in columns)]


class ConductorForm(forms.Form):
    """Every field bears the name that the question gives it, so a refusal finds its place."""

    device = forms.FloatField(label=_("Breaker or fuse, A"), required=False, min_value=1)
    noncontinuous = forms.FloatField(
        label=_("Load, A"), required=False, min_value=0, help_text=_("Less than three hours.")
    )
    continuous = forms.FloatField(
        label=_("Continuous load, A"),
        required=False,
        min_value=0,
        help_text=_("Three hours or more: counts 125 %."),
    )
    volts = forms.ChoiceField(label=_("Volts"), choices=[(one, one) for one in VOLTS])
    phases = forms.ChoiceField(
        label=_("Phases"), choices=[("1", _("single")), ("3", _("three"))], widget=Segmented
    )
    receptacles = forms.BooleanField(
        label=_("Branch circuit for several receptacles"), required=False
    )
    whole_dwelling = forms.BooleanField(
        label=_("Carries the entire load of one dwelling"), required=False
    )
    size = forms.ChoiceField(
        label=_("Installed size"),
        required=False,
        choices=lambda: _sizes(_("none yet")),
        help_text=_("It is checked; the smallest that passes is found either way."),
    )
    metal = forms.ChoiceField(
        label=_("Metal"), choices=[("cu", _("copper")), ("al", _("aluminum"))], widget=Segmented
    )
    ground = forms.ChoiceField(
        label=_("Installed ground"), required=False, choices=lambda: _sizes(NOT_STATED)
    )
    sets = forms.IntegerField(label=_("Sets in parallel"), required=False, min_value=1)
    insulation = forms.ChoiceField(
        label=_("Insulation"),
        required=False,
        choices=_degrees(COLUMNS),
        help_text=_("THHN, XHHW-2 and NM-B cable: 90 °C, THW: 75 °C, TW: 60 °C."),
    )
    terminal = forms.ChoiceField(
        label=_("Terminals marked"),
        required=False,
        choices=_degrees(TERMINALS),
        help_text=_(
            "NM-B cable is held to 60 °C whatever the terminals say (334.80, from memory)."
        ),
    )
    length = forms.CharField(
        label=_("Length, one way"),
        required=False,
        max_length=20,
        help_text=_("With its unit: 150 ft or 45 m."),
    )
    raceway = forms.ChoiceField(
        label=_("Raceway"),
        required=False,
        choices=RACEWAYS,
        widget=Segmented,
    )
    ambient = forms.CharField(
        label=_("Warmest surroundings"),
        required=False,
        max_length=20,
        help_text=_("With its unit: 110 F or 43 C. Empty: 30 C."),
    )
    bundled = forms.IntegerField(
        label=_("Conductors together"),
        required=False,
        min_value=1,
        help_text=_("Current-carrying, in one raceway or bundle. Empty: 3."),
    )
    drop_limit = forms.FloatField(
        label=_("Voltage drop at most, %"),
        required=False,
        min_value=0.1,
        max_value=50,
        help_text=_("Advice is 3 % for a branch circuit. Empty: no limit."),
    )
    power_factor = forms.FloatField(
        label=_("Power factor"),
        required=False,
        min_value=0.05,
        max_value=1,
        help_text=_("Empty: the worst for the conductor."),
    )
    edition = forms.ChoiceField(
        label=_("Edition"),
        choices=lambda: editions(_("choose")),
        error_messages={"required": _("Choose the edition in force where the work is.")},
    )

    not_done = _("Not answered yet")

    def __init__(self, *args: Any, adopted: bool = False, **kwargs: Any) -> None:
        """`adopted`: the edition follows from the place, and need not be chosen."""
        super().__init__(*args, **kwargs)
        if adopted:
            self.fields["edition"].required = False
            self.fields["edition"].choices = editions(_("as adopted there"))

    def conductor(self) -> dict[str, Any]:
        """What the question for the smallest conductor takes."""
        wanted = (*AMPERES, *CONDITIONS, *RUN, "receptacles", "whole_dwelling", "drop_limit")
        plain = self._plain(wanted)
        if not plain.get("length"):
            plain.pop("drop_limit", None)
        return plain

    def installed(self) -> dict[str, Any]:
        """What the check of the installed conductor takes."""
        return self._plain((*AMPERES, *CONDITIONS, "receptacles", "size", "ground"))

    def run(self) -> dict[str, Any]:
        """What the voltage drop of the installed conductor takes, but the current."""
        return self._plain((*RUN, "size", "metal", "sets"))

    @property
    def amperes(self) -> float:
        """The load, or the device where no load is said."""
        device, *loads = (float(self.cleaned_data.get(name) or 0.0) for name in AMPERES)
        return sum(loads) or device

    def _plain(self, names: tuple[str, ...]) -> dict[str, Any]:
        said: Mapping[str, Any] = self.cleaned_data
        told = {name: said.get(name) for name in names}
        return {name: _told(name, value) for name, value in told.items() if value not in (None, "")}


def _told(name: str, value: Any) -> Any:
    """A value with the unit that its field is asked for in."""
    if name in AMPERES:
        return f"{value:g} A"
    if name == "volts":
        return f"{value} V"
    return int(value) if name in WHOLE else value


class KeepConductorForm(BasisForm):
    """Which of the answers to keep, and what for."""

    method = forms.ChoiceField(label=_("What to keep"), widget=Segmented)
    purpose = forms.CharField(
        label=_("What it is for"),
        required=False,
        max_length=200,
        help_text=_("Printed on the worksheet."),
    )
    field_order = ["method", "on", "edition", "stated_by", "purpose"]

    def __init__(self, *args: Any, methods: list[tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(*args, **{"auto_id": "keep_%s", **kwargs})
        self.fields["method"].choices = methods
        self.initial.setdefault("method", methods[0][0] if methods else "")
