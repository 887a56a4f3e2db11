"""Messages owed: the outbox, and the addresses that want no more of them."""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import Customer, CustomerLink, Person
from followups.cadence.words import Kind, State
from jobs.models import Job, Visit

KINDS = [
    (Kind.CONFIRMATION.value, _("visit confirmed")),
    (Kind.CHANGED.value, _("visit moved")),
    (Kind.CANCELLED.value, _("visit called off")),
    (Kind.WALK_THROUGH.value, _("work done, panel explained")),
    (Kind.CHECK_IN.value, _("check-in")),
    (Kind.REMINDER.value, _("check-in, once more")),
    (Kind.CALLBACK.value, _("we have your message")),
    (Kind.THANKS.value, _("praise passed on")),
]
STATES = [
    (State.DUE.value, _("due")),
    (State.SENDING.value, _("being sent")),
    (State.SENT.value, _("sent")),
    (State.SKIPPED.value, _("not sent")),
    (State.EXPIRED.value, _("too late to send")),
    (State.UNSURE.value, _("may have been sent")),
    (State.HELD.value, _("held back")),
    (State.FAILED.value, _("could not be sent")),
]


@kept(exclude=["body_text", "body_html"])
class Message(models.Model):
    """A message owed: written in the transaction of its cause, sent by the sweep.

    `dedup_key` is kind:subject:slot, so the same thing is never owed twice. The words are
    rendered once, when the message is written, and sent as stored. `told_from`/`told_until`
    is when this message says the visit is, so that a message about an older time is not sent.
    `handed_at` marks the moment it was handed to the mail server: a lease that ran out before
    it is simply due again, one that ran out after it may have been sent.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    dedup_key = models.CharField(max_length=120, unique=True)
    kind = models.CharField(max_length=14, choices=KINDS)
    job = models.ForeignKey(Job, models.PROTECT, related_name="messages", null=True, blank=True)
    visit = models.ForeignKey(
        Visit, models.SET_NULL, related_name="messages", null=True, blank=True
    )
    customer = models.ForeignKey(
        Customer, models.PROTECT, related_name="messages", null=True, blank=True
    )
    person = models.ForeignKey(
        Person, models.PROTECT, related_name="messages", null=True, blank=True
    )
    link = models.ForeignKey(
        CustomerLink, models.PROTECT, related_name="messages", null=True, blank=True
    )
    to = models.EmailField(_("to"), blank=True)
    subject = models.CharField(max_length=200)
    body_text = models.TextField()
    body_html = models.TextField(blank=True)
    time_zone = models.CharField(max_length=40)
    told_from = models.DateTimeField(null=True, blank=True)
    told_until = models.DateTimeField(null=True, blank=True)
    not_before = models.DateTimeField()
    not_after = models.DateTimeField(null=True, blank=True)
    state = models.CharField(max_length=8, choices=STATES, default=State.DUE)
    lease_until = models.DateTimeField(null=True, blank=True)
    lease_owner = models.CharField(max_length=60, blank=True)
    handed_at = models.DateTimeField(null=True, blank=True)
    attempts = models.PositiveSmallIntegerField(default=0)
    sent_at = models.DateTimeField(null=True, blank=True)
    message_id = models.CharField(max_length=200, unique=True)
    why = models.CharField(_("why not"), max_length=300, blank=True)
    written_at = models.DateTimeField()

    class Meta:
        ordering: ClassVar = ["-not_before"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=~Q(state="sending") | Q(lease_until__isnull=False) & ~Q(lease_owner=""),
                name="sending_message_has_a_lease",
            ),
            models.CheckConstraint(
                condition=~Q(state="sent") | Q(sent_at__isnull=False),
                name="sent_message_says_when",
            ),
        ]
        indexes: ClassVar = [
            models.Index(fields=["not_before"], condition=Q(state="due"), name="message_due"),
            models.Index(
                fields=["lease_until"], condition=Q(state="sending"), name="message_lease"
            ),
            models.Index(
                fields=["state"],
                condition=Q(state__in=["unsure", "failed", "held", "expired"]),
                name="message_needs_a_person",
            ),
            models.Index(fields=["-not_before"], name="message_by_time"),
            models.Index(
                fields=["sent_at"],
                condition=Q(state="sent", kind="check_in"),
                name="message_check_in_sent",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.to or _('no address')}"


class OptOut(models.Model):
    """An address that wants no more check-ins; kept for ever, as a hash of the address."""

    address_hash = models.CharField(max_length=64, unique=True)
    at = models.DateTimeField()

    def __str__(self) -> str:
        return self.address_hash[:12]
