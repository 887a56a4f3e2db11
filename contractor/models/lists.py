"""A list someone uploaded: read once, shown, then taken in whole or not at all."""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.models.people import Person


class UploadedList(models.Model):
    """What was read from a CSV or XLSX file, waiting for a person's yes.

    `rows` holds the rows as typed, each with its line number; what would happen is computed
    again from them when the person says yes, so a preview that has grown old cannot mislead.
    """

    class Kind(models.TextChoices):
        CUSTOMERS = "customers", _("customers and sites")
        PANEL = "panel", _("panel schedule")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    kind = models.CharField(max_length=12, choices=Kind.choices)
    file_name = models.CharField(max_length=200)
    subject = models.UUIDField(null=True, blank=True)
    rows = models.JSONField(default=list)
    uploaded_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    uploaded_at = models.DateTimeField()
    taken_at = models.DateTimeField(null=True, blank=True)
    outcome = models.JSONField(null=True, blank=True)

    class Meta:
        ordering: ClassVar = ["-uploaded_at"]

    def __str__(self) -> str:
        return self.file_name
