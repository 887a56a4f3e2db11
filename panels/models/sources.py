"""What else can feed a site's panels, or draws on them like nothing else does."""

from __future__ import annotations

from typing import ClassVar

from django.contrib.postgres.fields import ArrayField
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import FieldRecord, Site
from panels.models.choices import Position, Transfer
from panels.models.circuits import Circuit
from panels.models.limits import POSITIVE


@kept()
class Source(FieldRecord):
    """Equipment on site that can feed the panels, or draws on them like nothing else does."""

    class Kind(models.TextChoices):
        STORAGE = "storage", _("battery storage")
        SOLAR = "solar", _("solar")
        GENERATOR = "generator", _("standby generator")
        VEHICLE = "vehicle", _("vehicle supply equipment")

    site = models.ForeignKey(Site, models.PROTECT, related_name="sources")
    kind = models.CharField(_("kind"), max_length=10, choices=Kind.choices)
    name = models.CharField(_("name"), max_length=80)
    circuit = models.ForeignKey(
        Circuit, models.SET_NULL, related_name="sources", null=True, blank=True,
        verbose_name=_("connected at"),
    )  # fmt: skip
    location = models.CharField(_("location"), max_length=120, blank=True)
    disconnect_at = models.CharField(_("where its disconnect is"), max_length=120, blank=True)
    rated_a = models.FloatField(_("rated output, A"), null=True, blank=True, validators=POSITIVE)
    rated_kva = models.FloatField(
        _("rated output, kVA"), null=True, blank=True, validators=POSITIVE
    )
    surge_kva = models.FloatField(
        _("surge output, kVA"), null=True, blank=True, validators=POSITIVE
    )
    usable_kwh = models.FloatField(
        _("usable energy, kWh"), null=True, blank=True, validators=POSITIVE
    )
    position = models.CharField(
        _("on the bus"), max_length=10, choices=Position.choices, blank=True, default=""
    )
    labelled = models.BooleanField(_("its label is on the panel"), null=True, blank=True)
    transfer = models.CharField(
        _("transfer"), max_length=10, choices=Transfer.choices, blank=True, default=""
    )
    altitude_ft = models.FloatField(
        _("altitude, ft"), null=True, blank=True,
        validators=[MinValueValidator(-500), MaxValueValidator(15_000)],
    )  # fmt: skip
    fuel = models.CharField(_("fuel"), max_length=20, blank=True)
    fuel_unit = models.CharField(
        _("fuel is measured in"), max_length=12, blank=True, help_text=_("gal, ft³, therm ...")
    )
    fuel_full_per_h = models.FloatField(
        _("fuel in an hour at full load"), null=True, blank=True, validators=POSITIVE
    )
    fuel_half_per_h = models.FloatField(
        _("fuel in an hour at half load"), null=True, blank=True, validators=POSITIVE
    )
    fuel_on_hand = models.FloatField(
        _("fuel on hand"), null=True, blank=True, validators=POSITIVE,
        help_text=_("Empty for a pipe from the street."),
    )  # fmt: skip
    peak_kw = models.FloatField(_("array, kW"), null=True, blank=True, validators=POSITIVE)
    hourly = ArrayField(
        models.FloatField(validators=[MinValueValidator(0), MaxValueValidator(1)]),
        verbose_name=_("output by hour, as a part of the array"), size=24, null=True, blank=True,
        help_text=_("24 numbers from 0 to 1, midnight first. Empty: a plain clear day."),
    )  # fmt: skip
    notes = models.TextField(_("notes"), blank=True)

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["kind", "name"]

    def __str__(self) -> str:
        return self.name
