"""What was measured, and what was issued: readings, directory revisions."""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import FieldRecord, Person
from contractor.models.records import never_altered
from panels.models.circuits import Circuit
from panels.models.panels import Panel


@kept()
class Reading(FieldRecord):
    """One measured value; the unit belongs to the kind. `visit` is known to the jobs room."""

    class Kind(models.TextChoices):
        VOLTAGE = "voltage", _("voltage, V")
        INSULATION = "insulation", _("insulation resistance, MΩ")
        TORQUE = "torque", _("torque, lb-in")

    panel = models.ForeignKey(Panel, models.CASCADE, related_name="readings")
    circuit = models.ForeignKey(
        Circuit, models.SET_NULL, related_name="readings", null=True, blank=True
    )
    kind = models.CharField(_("kind"), max_length=12, choices=Kind.choices)
    between = models.CharField(_("between"), max_length=20, blank=True)
    value = models.FloatField(_("value"))
    test_v = models.PositiveSmallIntegerField(_("test voltage, V DC"), null=True, blank=True)
    temperature_c = models.FloatField(_("temperature, °C"), null=True, blank=True)
    marked_value = models.FloatField(_("value marked on the equipment"), null=True, blank=True)
    instrument = models.CharField(_("instrument"), max_length=80, blank=True)
    taken_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    taken_at = models.DateTimeField()
    visit = models.UUIDField(null=True, blank=True, db_index=True)

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["-taken_at"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.between}: {self.value:g}"


class DirectoryRevision(models.Model):
    """A panel directory as issued: never altered, only superseded by the next number."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    panel = models.ForeignKey(Panel, models.PROTECT, related_name="revisions")
    number = models.PositiveSmallIntegerField()
    issued_at = models.DateTimeField()
    issued_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    content = models.JSONField()
    digest = models.CharField(max_length=64)

    class Meta:
        ordering: ClassVar = ["-number"]
        triggers: ClassVar = [never_altered()]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["panel", "number"], name="revision_number_once")
        ]

    def __str__(self) -> str:
        return f"{self.panel}, revision {self.number}"
