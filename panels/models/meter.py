"""What the utility's meter recorded at a site: one file, read once, its numbers kept small."""

from __future__ import annotations

import uuid
from typing import ClassVar

import pgtrigger
from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import Person, Site
from panels.rules.meter import Series, unpacked
from panels.rules.meter.demand import QUARTER
from panels.rules.meter.findings import power


@kept(exclude=["readings"])
class MeterData(models.Model):
    """The readings of one channel of a file, as they were read; never changed, only removed.

    `readings` is what `panels.rules.meter.packed` writes. `power_unit` is W or VA, `energy` in
    Wh or VAh, `peak` the highest demand (of readings finer than 15 minutes their average over
    15). `findings` is a list of ``{"code", "sentence", "severity"}``. `stated_unit` is what a
    person said where the file is silent, `channel` the number they named (0: chosen here).
    """

    class Form(models.TextChoices):
        GREEN_BUTTON = "green_button", _("Green Button")
        CSV = "csv", _("CSV")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    site = models.ForeignKey(Site, models.PROTECT, related_name="meter_data")
    digest = models.CharField(max_length=64)
    file_name = models.CharField(_("file"), max_length=200)
    form = models.CharField(_("form"), max_length=16, choices=Form.choices)
    channel = models.PositiveSmallIntegerField(default=0)
    channel_name = models.CharField(max_length=300)
    stated_unit = models.CharField(max_length=4, blank=True)
    power_unit = models.CharField(max_length=2)
    interval_s = models.PositiveIntegerField()
    first_at = models.DateTimeField()
    end_at = models.DateTimeField()
    days = models.PositiveIntegerField()
    count = models.PositiveIntegerField()
    energy = models.FloatField()
    peak = models.FloatField()
    peak_at = models.DateTimeField()
    findings = models.JSONField(default=list)
    readings = models.BinaryField()
    taken_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    taken_at = models.DateTimeField()

    class Meta:
        ordering: ClassVar = ["-taken_at"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["site", "digest", "channel"], name="meter_file_once_per_site"
            )
        ]
        triggers: ClassVar = [pgtrigger.Protect(name="never_changed", operation=pgtrigger.Update)]

    def __str__(self) -> str:
        return self.file_name

    @property
    def series(self) -> Series:
        return unpacked(bytes(self.readings), unit=self.power_unit)

    @property
    def peak_shown(self) -> str:
        """The highest demand for people, e.g. 2.37 kW."""
        return power(self.peak, self.power_unit)

    @property
    def minutes(self) -> str:
        """The interval in minutes."""
        return f"{self.interval_s / 60:g}"

    @property
    def demand_s(self) -> int:
        """What the demand is averaged over, in seconds."""
        return max(self.interval_s, QUARTER)

    @property
    def bars(self) -> list[str]:
        """Why the metered method is closed for these readings; empty where it is open."""
        return [one["sentence"] for one in self.findings if one["severity"] == "bars"]
