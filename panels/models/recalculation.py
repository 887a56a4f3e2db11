"""Homes calculated again because the edition that counts for them has changed.

The rows are the queue: a `Recalculated` that waits is work to do, and what became of it is written
in the transaction that also keeps the new calculation. Whoever dies in between has done nothing.
"""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.models import Person, Site
from panels.models.load import Adoption, Calculation
from panels.rules.methods import METHODS


class Recalculation(models.Model):
    """One round over all homes an adoption governs, by the edition as it stood when asked for.

    `edition`, `amendments`, `edition_by` and `on` are a dated copy on purpose: a change of the
    adoption in the meantime does not give half of the homes another basis. `homes` and `total`
    count the homes and their calculations; `done`, `changed` and `failed` the calculations.
    """

    class State(models.TextChoices):
        WORKING = "working", _("being calculated")
        DONE = "done", _("done")
        STOPPED = "stopped", _("stopped")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    adoption = models.ForeignKey(
        Adoption, models.SET_NULL, related_name="recalculations", null=True, blank=True
    )
    where = models.CharField(max_length=120)
    edition = models.CharField(max_length=8)
    amendments = models.JSONField(default=list)
    edition_by = models.CharField(max_length=300)
    purpose = models.CharField(max_length=200)
    on = models.DateField()
    asked_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    asked_at = models.DateTimeField()
    worked_at = models.DateTimeField(null=True)
    ended_at = models.DateTimeField(null=True)
    state = models.CharField(max_length=8, choices=State.choices, default=State.WORKING)
    homes = models.PositiveIntegerField(default=0)
    total = models.PositiveIntegerField(default=0)
    done = models.PositiveIntegerField(default=0)
    changed = models.PositiveIntegerField(default=0)
    failed = models.PositiveIntegerField(default=0)

    class Meta:
        ordering: ClassVar = ["-asked_at"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["adoption"],
                condition=models.Q(state="working"),
                name="one_recalculation_of_an_adoption_at_a_time",
            ),
            models.CheckConstraint(
                condition=models.Q(done__lte=models.F("total")), name="recalculation_done_of_total"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.where}: {self.edition}"

    @property
    def is_open(self) -> bool:
        return self.state == self.State.WORKING


class Recalculated(models.Model):
    """One home by one method: what was kept `before`, and `after` where that came out otherwise.

    `over`: the load is above the service the home has. `record_changed`: the home's record is not
    what the calculation before was made of, so the edition alone does not explain a difference.
    """

    class State(models.TextChoices):
        WAITING = "waiting", _("waiting")
        SAME = "same", _("as before")
        CHANGED = "changed", _("kept anew")
        FAILED = "failed", _("could not be calculated")

    recalculation = models.ForeignKey(Recalculation, models.CASCADE, related_name="lines")
    site = models.ForeignKey(Site, models.PROTECT, related_name="+")
    method = models.CharField(max_length=20)
    before = models.ForeignKey(Calculation, models.PROTECT, related_name="+")
    after = models.ForeignKey(Calculation, models.PROTECT, related_name="+", null=True)
    state = models.CharField(max_length=8, choices=State.choices, default=State.WAITING)
    over = models.BooleanField(default=False)
    record_changed = models.BooleanField(default=False)
    why = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering: ClassVar = ["pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["recalculation", "site", "method"], name="recalculated_once"
            ),
            models.CheckConstraint(
                condition=models.Q(state="changed", after__isnull=False)
                | (~models.Q(state="changed") & models.Q(after__isnull=True)),
                name="recalculated_anew_where_changed",
            ),
        ]
        indexes: ClassVar = [
            models.Index(
                fields=["recalculation", "id"],
                condition=models.Q(state="waiting"),
                name="recalculated_waiting",
            ),
            models.Index(fields=["recalculation", "state", "id"], name="recalculated_by_state"),
        ]

    def __str__(self) -> str:
        return f"{self.site}: {self.get_state_display()}"

    @property
    def method_title(self) -> str:
        known = METHODS.get(self.method)
        return known.title if known else self.method
