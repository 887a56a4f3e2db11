"""A meter's file, and what the metered method asks beside it."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from contractor.forms_rendering import Segmented, Ticks
from panels.forms.load import BasisForm
from panels.models import Home, Load, MeterData, Source
from panels.rules.meter.channels import SCALES
from panels.rules.supply import SUPPLIES

YES_NO = [("yes", _("Yes")), ("no", _("No"))]
BEHIND_THE_METER = (Source.Kind.SOLAR, Source.Kind.STORAGE)


class MeterFileForm(forms.Form):
    not_done = _("Not taken in")
    file = forms.FileField(
        label=_("The meter’s file"),
        allow_empty_file=True,
        widget=forms.FileInput({"accept": ".xml,.csv,.txt,text/csv,text/xml"}),
        help_text=_("Green Button XML or CSV as the utility gives it out, a year by 15 minutes."),
    )
    unit = forms.ChoiceField(
        label=_("Unit of its numbers"),
        required=False,
        choices=[("", _("as the file says")), *((unit, unit) for unit in SCALES)],
        help_text=_("Only where the file does not say it. Compare with a bill."),
    )
    channel = forms.IntegerField(
        label=_("Channel"),
        required=False,
        min_value=1,
        max_value=999,
        help_text=_("Only to take another channel than the one chosen from the file."),
    )


class MeteredForm(BasisForm):
    """What the readings do not tell: power factor, sources, what did not run, what is added."""

    power_factor = forms.FloatField(
        label=_("Power factor"),
        min_value=0.01,
        max_value=1,
        widget=forms.NumberInput({"step": "any"}),
        help_text=_(
            "Measured, or told by the utility: the meter records kW, the service carries VA. "
            "1.0 gives the fewest VA; choose it only where you know why."
        ),
    )
    renewable = forms.ChoiceField(
        label=_("Solar, wind, storage or peak shaving behind this meter"),
        choices=YES_NO,
        widget=Segmented,
    )
    occupied = forms.ChoiceField(
        label=_("Was the building occupied meanwhile"), choices=YES_NO, widget=Segmented
    )
    additions = forms.ModelMultipleChoiceField(
        label=_("What did not run while it was recorded"),
        queryset=Load.objects.none(),
        required=False,
        widget=Ticks,
        help_text=_("Loads on record: the other season’s heating or cooling, a pool pump."),
    )
    new_loads = forms.ModelMultipleChoiceField(
        label=_("What is to be added"),
        queryset=Load.objects.none(),
        required=False,
        widget=Ticks,
        help_text=_("Loads on record; those marked as being added are ticked."),
    )
    system = forms.ChoiceField(
        label=_("Voltage system"), choices=[(one.value, one.label) for one in SUPPLIES]
    )
    service_a = forms.IntegerField(label=_("Rating of the service, A"), min_value=1, max_value=6000)
    purpose = forms.CharField(
        label=_("What it is for"),
        required=False,
        max_length=200,
        help_text=_("Printed on the worksheet, e.g. permit application EL-26-0317."),
    )
    field_order = (
        "power_factor", "renewable", "occupied", "additions", "new_loads", "system", "service_a",
        "on", "edition", "stated_by", "purpose",
    )  # fmt: skip

    def __init__(self, *args: Any, data_of: MeterData, year: int, **kwargs: Any) -> None:
        site = data_of.site
        loads = list(site.loads.all())
        kwargs["initial"] = {**_known(data_of, loads), **kwargs.get("initial", {})}
        super().__init__(*args, **kwargs)
        for name in ("additions", "new_loads"):
            if loads:
                self.fields[name].queryset = site.loads.all()
            else:
                del self.fields[name]
        if data_of.power_unit == "VA":
            del self.fields["power_factor"]
        if data_of.days >= year:
            del self.fields["occupied"]


def _known(data: MeterData, loads: list[Load]) -> dict[str, Any]:
    """What the record of the site says already."""
    site = data.site
    home = Home.objects.filter(site=site).first()
    panel = site.panels.filter(retired_at=None, fed_from=None, fed_through=None).first()
    known: dict[str, Any] = {"new_loads": [load.pk for load in loads if load.new]}
    if home is not None:
        known |= {"system": home.system, "service_a": home.service_a}
    elif panel is not None:
        known |= {"system": panel.system, "service_a": panel.main_a}
    if site.sources.filter(kind__in=BEHIND_THE_METER).exists():
        known["renewable"] = "yes"
    return known
