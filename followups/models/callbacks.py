"""Work that has to be answered for."""

from __future__ import annotations

from typing import ClassVar

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import Crew, FieldRecord, Person
from followups.cadence.words import CallbackState
from followups.models.answers import Reply
from jobs.models import Job, Visit

CALLBACK_STATES = [
    (CallbackState.OPEN.value, _("open")),
    (CallbackState.BOOKED.value, _("visit booked")),
    (CallbackState.CLOSED.value, _("closed")),
]


@kept()
class Callback(FieldRecord):
    """Something is wrong after the work: tied to the job, the visit and the crew that did it."""

    class Cause(models.TextChoices):
        """What brought the firm back. Common practice, no source."""

        LOOSE = "loose", _("a termination or connection came loose")
        WRONG_PART = "wrong_part", _("wrong breaker, device or material fitted")
        FAULTY_PART = "faulty_part", _("a new part failed")
        TRIPPING = "tripping", _("a breaker or protective device trips")
        NOT_FINISHED = "not_finished", _("something was left unfinished")
        LABELS = "labels", _("labels or the panel directory are wrong")
        DAMAGE = "damage", _("damage to finish or property")
        CLEAN_UP = "clean_up", _("not cleaned up")
        EXPLAINED = "explained", _("not explained well enough")
        OLD_WORK = "old_work", _("older wiring we did not touch")
        UTILITY = "utility", _("the utility’s side")
        NO_FAULT = "no_fault", _("no fault found")
        OTHER = "other", _("something else")

    job = models.ForeignKey(Job, models.PROTECT, related_name="callbacks")
    visit = models.ForeignKey(
        Visit, models.PROTECT, related_name="callbacks", null=True, blank=True
    )
    crew = models.ForeignKey(Crew, models.PROTECT, related_name="callbacks", null=True, blank=True)
    reply = models.OneToOneField(
        Reply, models.PROTECT, related_name="callback", null=True, blank=True
    )
    what = models.TextField(_("what is wrong"))
    state = models.CharField(max_length=8, choices=CALLBACK_STATES, default=CallbackState.OPEN)
    opened_at = models.DateTimeField()
    opened_by = models.ForeignKey(Person, models.PROTECT, related_name="+", null=True, blank=True)
    cause = models.CharField(_("cause"), max_length=12, choices=Cause.choices, blank=True)
    cause_text = models.CharField(_("cause, more exactly"), max_length=200, blank=True)
    note = models.TextField(_("note for the office and the crew"), blank=True)
    resolution = models.TextField(_("what was done"), blank=True)
    closed_at = models.DateTimeField(null=True, blank=True)
    closed_by = models.ForeignKey(Person, models.PROTECT, related_name="+", null=True, blank=True)
    booked_as = models.ForeignKey(
        Job, models.PROTECT, related_name="answers_callbacks", null=True, blank=True
    )

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["-opened_at"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(state="closed", closed_at__isnull=False, closed_by__isnull=False)
                & ~Q(resolution="")
                | ~Q(state="closed") & Q(closed_at__isnull=True),
                name="closed_callback_says_what_was_done",
            ),
            models.CheckConstraint(
                condition=~Q(state="booked") | Q(booked_as__isnull=False),
                name="booked_callback_has_a_job",
            ),
        ]
        indexes: ClassVar = [
            models.Index(
                fields=["opened_at"], condition=~Q(state="closed"), name="callback_waiting"
            )
        ]

    def __str__(self) -> str:
        return f"{self.job}: {self.what[:60]}"

    @property
    def mark(self) -> str:
        """How its state is marked on a page."""
        return {"open": "due", "booked": "active"}.get(self.state, "done")
