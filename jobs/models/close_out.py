"""What proves the work: the close-out list, readings, photos, the customer's signature."""

from __future__ import annotations

import uuid
from typing import ClassVar

import pgtrigger
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import FieldRecord, Person
from jobs.models.jobs import Job, Visit, choices
from jobs.planning.words import CloseOutKind
from panels.models import Panel, Reading


@kept()
class CloseOutLine(FieldRecord):
    """One line of a job's close-out list; what it asks for decides what answers it."""

    job = models.ForeignKey(Job, models.CASCADE, related_name="close_out")
    label = models.CharField(_("line"), max_length=120)
    asks = models.CharField(max_length=12, choices=choices(CloseOutKind))
    required = models.BooleanField(_("must be there to close"), default=True)
    may_not_apply = models.BooleanField(_("may be marked “does not apply here”"), default=True)
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
class LineReading(models.Model):
    """A reading that proves a line; one reading proves one line."""

    line = models.ForeignKey(CloseOutLine, models.CASCADE, related_name="proofs")
    reading = models.OneToOneField(Reading, models.CASCADE, related_name="proves")

    class Meta:
        ordering: ClassVar = ["id"]

    def __str__(self) -> str:
        return f"{self.line}: {self.reading}"


class PhotoQuerySet(models.QuerySet["Photo"]):
    def standing(self) -> PhotoQuerySet:
        """Those nobody has taken out again."""
        return self.filter(removed_at=None)


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
    removed_at = models.DateTimeField(null=True, blank=True)
    removed_by = models.ForeignKey(Person, models.PROTECT, related_name="+", null=True, blank=True)

    objects = PhotoQuerySet.as_manager()

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["taken_at", "id"]

    def __str__(self) -> str:
        return self.caption or self.sha256[:8]


@kept()
class Signature(FieldRecord):
    """The customer's name and strokes, as drawn on the technician's phone; or the name alone,
    typed where nothing can be drawn; or why nobody could sign."""

    job = models.OneToOneField(Job, models.PROTECT, related_name="signature")
    visit = models.ForeignKey(Visit, models.PROTECT, related_name="signatures")
    signed_name = models.CharField(_("name of the person signing"), max_length=120, blank=True)
    strokes = models.JSONField(null=True, blank=True)
    by_typed_name = models.BooleanField(_("signs by typed name"), default=False)
    absent_reason = models.CharField(_("why nobody could sign"), max_length=200, blank=True)
    taken_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    signed_at = models.DateTimeField()

    class Meta(FieldRecord.Meta):
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(absent_reason="", by_typed_name=False, strokes__isnull=False)
                & ~Q(signed_name="")
                | Q(absent_reason="", by_typed_name=True, strokes__isnull=True) & ~Q(signed_name="")
                | Q(signed_name="", by_typed_name=False, strokes__isnull=True)
                & ~Q(absent_reason=""),
                name="signed_one_way",
            )
        ]

    def __str__(self) -> str:
        return self.signed_name or self.absent_reason


@kept()
class CloseOut(models.Model):
    """The job as it was when it was closed: who, when, and what was proved. Opening the job
    again is written beside it; nothing else about it ever changes."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    job = models.ForeignKey(Job, models.PROTECT, related_name="close_outs")
    visit = models.ForeignKey(Visit, models.PROTECT, related_name="+", null=True, blank=True)
    closed_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    closed_at = models.DateTimeField()
    proved = models.JSONField()
    reopened_at = models.DateTimeField(null=True, blank=True)
    reopened_by = models.ForeignKey(Person, models.PROTECT, related_name="+", null=True, blank=True)
    reopened_because = models.CharField(_("why it is opened again"), max_length=200, blank=True)

    class Meta:
        ordering: ClassVar = ["-closed_at"]
        triggers: ClassVar = [
            pgtrigger.ReadOnly(
                name="as_it_was", fields=["job", "visit", "closed_by", "closed_at", "proved"]
            ),
            pgtrigger.Protect(name="never_deleted", operation=pgtrigger.Delete),
        ]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["job"], condition=Q(reopened_at=None), name="closed_once_at_a_time"
            )
        ]

    def __str__(self) -> str:
        return f"{self.job} closed"
