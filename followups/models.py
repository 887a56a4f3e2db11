"""After the work: messages owed, answers given, callbacks opened, praise passed on."""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import Crew, Customer, CustomerLink, FieldRecord, Person
from jobs.models import Job, Visit


@kept(exclude=["body_text", "body_html"])
class Message(models.Model):
    """A message owed: written in the transaction of its cause, sent by the sweep.

    `dedup_key` is kind:subject:slot, so the same thing is never owed twice. The words are
    rendered once, when the message is written, and sent as stored.
    """

    class State(models.TextChoices):
        DUE = "due", _("due")
        SENDING = "sending", _("being sent")
        SENT = "sent", _("sent")
        SKIPPED = "skipped", _("not sent")
        EXPIRED = "expired", _("too late to send")
        UNSURE = "unsure", _("may have been sent")
        HELD = "held", _("held")
        FAILED = "failed", _("could not be sent")

    class Kind(models.TextChoices):
        CONFIRMATION = "confirmation", _("visit confirmed")
        WALK_THROUGH = "walk_through", _("your panel, explained")
        CHECK_IN = "check_in", _("one-week check-in")
        CALLBACK = "callback", _("we have your message")
        THANKS = "thanks", _("praise passed on")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    dedup_key = models.CharField(max_length=120, unique=True)
    kind = models.CharField(max_length=14, choices=Kind.choices)
    job = models.ForeignKey(Job, models.PROTECT, related_name="messages", null=True, blank=True)
    customer = models.ForeignKey(
        Customer, models.PROTECT, related_name="messages", null=True, blank=True
    )
    person = models.ForeignKey(
        Person, models.PROTECT, related_name="messages", null=True, blank=True
    )
    link = models.ForeignKey(
        CustomerLink, models.PROTECT, related_name="messages", null=True, blank=True
    )
    to = models.EmailField()
    subject = models.CharField(max_length=200)
    body_text = models.TextField()
    body_html = models.TextField(blank=True)
    time_zone = models.CharField(max_length=40)
    not_before = models.DateTimeField()
    not_after = models.DateTimeField(null=True, blank=True)
    state = models.CharField(max_length=8, choices=State.choices, default=State.DUE)
    lease_until = models.DateTimeField(null=True, blank=True)
    lease_owner = models.CharField(max_length=60, blank=True)
    attempts = models.PositiveSmallIntegerField(default=0)
    sent_at = models.DateTimeField(null=True, blank=True)
    message_id = models.CharField(max_length=120, unique=True)
    why = models.CharField(_("why not"), max_length=300, blank=True)
    written_at = models.DateTimeField()

    class Meta:
        ordering: ClassVar = ["-not_before"]
        indexes: ClassVar = [
            models.Index(fields=["not_before"], condition=Q(state="due"), name="message_due"),
            models.Index(
                fields=["lease_until"], condition=Q(state="sending"), name="message_lease"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} to {self.to}"


@kept()
class Reply(FieldRecord):
    """What the customer answered to a check-in; they may answer again, nothing is lost."""

    class Answer(models.TextChoices):
        WELL = "well", _("all well")
        QUESTION = "question", _("a question")
        WRONG = "wrong", _("something is wrong")

    message = models.ForeignKey(Message, models.PROTECT, related_name="replies")
    job = models.ForeignKey(Job, models.PROTECT, related_name="replies")
    answer = models.CharField(max_length=10, choices=Answer.choices)
    text = models.TextField(blank=True)
    answered_at = models.DateTimeField()
    handled_at = models.DateTimeField(null=True, blank=True)
    handled_by = models.ForeignKey(Person, models.PROTECT, related_name="+", null=True, blank=True)

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["-answered_at"]

    def __str__(self) -> str:
        return f"{self.get_answer_display()}: {self.job}"


class ReplyPhoto(models.Model):
    """A picture the customer sent along, treated like any other upload."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    reply = models.ForeignKey(Reply, models.CASCADE, related_name="photos")
    sha256 = models.CharField(max_length=64)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()


@kept()
class Callback(FieldRecord):
    """Work that has to be answered for: tied to the job, the visit and the crew that did it."""

    class State(models.TextChoices):
        OPEN = "open", _("open")
        BOOKED = "booked", _("visit booked")
        CLOSED = "closed", _("closed")

    job = models.ForeignKey(Job, models.PROTECT, related_name="callbacks")
    visit = models.ForeignKey(
        Visit, models.PROTECT, related_name="callbacks", null=True, blank=True
    )
    crew = models.ForeignKey(Crew, models.PROTECT, related_name="callbacks", null=True, blank=True)
    reply = models.OneToOneField(
        Reply, models.PROTECT, related_name="callback", null=True, blank=True
    )
    what = models.TextField(_("what is wrong"))
    state = models.CharField(max_length=8, choices=State.choices, default=State.OPEN)
    opened_at = models.DateTimeField()
    opened_by = models.ForeignKey(Person, models.PROTECT, related_name="+", null=True, blank=True)
    cause = models.CharField(_("cause"), max_length=120, blank=True)
    resolution = models.TextField(_("what was done"), blank=True)
    closed_at = models.DateTimeField(null=True, blank=True)
    closed_by = models.ForeignKey(Person, models.PROTECT, related_name="+", null=True, blank=True)
    booked_as = models.ForeignKey(
        Job, models.PROTECT, related_name="answers_callbacks", null=True, blank=True
    )

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["-opened_at"]

    def __str__(self) -> str:
        return f"{self.job}: {self.what[:60]}"


@kept()
class Thanks(models.Model):
    """Praise for one person who did the work, kept until they have read it and after."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="thanks")
    job = models.ForeignKey(Job, models.PROTECT, related_name="thanks")
    reply = models.ForeignKey(Reply, models.PROTECT, related_name="thanks")
    text = models.TextField()
    given_at = models.DateTimeField()
    read_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering: ClassVar = ["-given_at"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["person", "reply"], name="thanked_once_per_reply")
        ]

    def __str__(self) -> str:
        return f"{self.person}: {self.job}"


class OptOut(models.Model):
    """An address that wants no more check-ins; kept for ever, as a hash of the address."""

    address_hash = models.CharField(max_length=64, unique=True)
    at = models.DateTimeField()
