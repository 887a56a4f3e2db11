"""What proves the work: the close-out list, photos, the customer's signature."""

from __future__ import annotations

from typing import ClassVar

from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import FieldRecord, Person
from jobs.models.jobs import Job, Visit, choices
from jobs.planning.words import CloseOutKind
from panels.models import Panel


@kept()
class CloseOutLine(FieldRecord):
    """One line of a job's close-out list; what it asks for decides what answers it."""

    job = models.ForeignKey(Job, models.CASCADE, related_name="close_out")
    label = models.CharField(_("line"), max_length=120)
    asks = models.CharField(max_length=12, choices=choices(CloseOutKind))
    required = models.BooleanField(_("must be there to close"), default=True)
    order = models.PositiveSmallIntegerField(default=1)
    note = models.TextField(_("note"), blank=True)
    not_applicable = models.BooleanField(_("does not apply here"), default=False)
    done_by = models.ForeignKey(Person, models.PROTECT, related_name="+", null=True, blank=True)
    done_at = models.DateTimeField(null=True, blank=True)

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["order", "label"]

    def __str__(self) -> str:
        return self.label


@kept()
class Photo(FieldRecord):
    """A picture, re-encoded without its metadata; the file is named by its contents."""

    visit = models.ForeignKey(Visit, models.PROTECT, related_name="photos")
    line = models.ForeignKey(
        CloseOutLine, models.SET_NULL, related_name="photos", null=True, blank=True
    )
    panel = models.ForeignKey(Panel, models.SET_NULL, related_name="photos", null=True, blank=True)
    sha256 = models.CharField(max_length=64, db_index=True)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    bytes = models.PositiveIntegerField()
    caption = models.CharField(_("caption"), max_length=120, blank=True)
    taken_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    taken_at = models.DateTimeField()

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["taken_at"]

    def __str__(self) -> str:
        return self.caption or self.sha256[:8]


@kept()
class Signature(FieldRecord):
    """The customer's name and strokes, as drawn on the technician's phone."""

    job = models.OneToOneField(Job, models.PROTECT, related_name="signature")
    visit = models.ForeignKey(Visit, models.PROTECT, related_name="signatures")
    signed_name = models.CharField(_("name of the person signing"), max_length=120)
    strokes = models.JSONField()
    absent_reason = models.CharField(_("why nobody could sign"), max_length=200, blank=True)
    taken_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    signed_at = models.DateTimeField()

    def __str__(self) -> str:
        return self.signed_name


class CloseOut(models.Model):
    """The job as it was when it was closed: who, when, and what was proved."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="close_outs")
    closed_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    closed_at = models.DateTimeField()
    proved = models.JSONField()
    reopened_at = models.DateTimeField(null=True, blank=True)
    reopened_by = models.ForeignKey(Person, models.PROTECT, related_name="+", null=True, blank=True)
    reopened_because = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering: ClassVar = ["-closed_at"]

    def __str__(self) -> str:
        return f"{self.job} closed"
