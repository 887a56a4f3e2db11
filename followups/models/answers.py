"""What customers answered, and the praise in it."""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import FieldRecord, Person
from followups.cadence.words import Answer
from followups.models.messages import Message
from jobs.models import Job

ANSWERS = [
    (Answer.WELL.value, _("All well")),
    (Answer.QUESTION.value, _("A question")),
    (Answer.WRONG.value, _("Something is wrong")),
]


@kept()
class Reply(FieldRecord):
    """What the customer answered to a check-in; they may answer again, nothing is lost."""

    message = models.ForeignKey(Message, models.PROTECT, related_name="replies")
    job = models.ForeignKey(Job, models.PROTECT, related_name="replies")
    answer = models.CharField(_("answer"), max_length=10, choices=ANSWERS)
    text = models.TextField(_("in their words"), blank=True)
    answered_at = models.DateTimeField()
    handled_at = models.DateTimeField(null=True, blank=True)
    handled_by = models.ForeignKey(Person, models.PROTECT, related_name="+", null=True, blank=True)
    handled_how = models.CharField(_("what you told them"), max_length=300, blank=True)

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["-answered_at"]
        indexes: ClassVar = [
            models.Index(
                fields=["answered_at"],
                condition=Q(answer="question", handled_at__isnull=True),
                name="question_waiting",
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_answer_display()}: {self.job}"


class ReplyPhoto(models.Model):
    """A picture the customer sent along, treated like any other upload."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    reply = models.ForeignKey(Reply, models.CASCADE, related_name="photos")
    order = models.PositiveSmallIntegerField(default=1)
    sha256 = models.CharField(max_length=64)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()

    class Meta:
        ordering: ClassVar = ["order"]

    def __str__(self) -> str:
        return self.sha256[:12]


@kept()
class Thanks(models.Model):
    """Praise for one person who did the work, kept until they have read it and after.

    `reply` is empty when a customer said it some other way and the office wrote it down.
    """

    person = models.ForeignKey(Person, models.CASCADE, related_name="thanks")
    job = models.ForeignKey(Job, models.PROTECT, related_name="thanks")
    reply = models.ForeignKey(Reply, models.PROTECT, related_name="thanks", null=True, blank=True)
    text = models.TextField(_("in their words"))
    given_at = models.DateTimeField()
    passed_on_by = models.ForeignKey(
        Person, models.PROTECT, related_name="+", null=True, blank=True
    )
    read_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering: ClassVar = ["-given_at"]
        verbose_name_plural = "thanks"
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["person", "reply"], name="thanked_once_per_reply")
        ]
        indexes: ClassVar = [
            models.Index(fields=["person"], condition=Q(read_at__isnull=True), name="thanks_unread")
        ]

    def __str__(self) -> str:
        return f"{self.person}: {self.job}"
