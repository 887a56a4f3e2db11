"""Job kinds: what a kind of work usually needs, as data the firm edits."""

from __future__ import annotations

from typing import Any, ClassVar

from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import CertificateKind, Grade
from jobs.planning.words import CloseOutKind, HoldKind, Word


def choices(words: type[Word]) -> list[tuple[str, Any]]:
    """The words of a field, each with its label in the reader's language."""
    return [(word.value, _(word.label)) for word in words]


@kept()
class JobKind(models.Model):
    name = models.CharField(_("name"), max_length=80, unique=True)
    description = models.TextField(_("what it is"), blank=True)
    needs_permit = models.BooleanField(_("needs a permit"), default=True)
    is_active = models.BooleanField(_("offered when booking"), default=True)
    answers_callbacks = models.BooleanField(
        _("booked to answer a callback"), default=False,
        help_text=_("One kind is booked when a customer calls the firm back."),
    )  # fmt: skip
    source = models.CharField(_("where this comes from"), max_length=200, blank=True)

    class Meta:
        ordering: ClassVar = ["name"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["answers_callbacks"],
                condition=models.Q(answers_callbacks=True),
                name="one_kind_answers_callbacks",
            )
        ]

    def __str__(self) -> str:
        return self.name


class VisitNeeds(models.Model):
    """How long, how many people, of what grade: the same for a kind's visit and a job's."""

    name = models.CharField(_("visit"), max_length=60)
    order = models.PositiveSmallIntegerField(_("order"), default=1)
    expected_minutes = models.PositiveSmallIntegerField(_("expected minutes"), default=120)
    people_needed = models.PositiveSmallIntegerField(_("people"), default=1)
    grade_needed = models.PositiveSmallIntegerField(
        _("licence grade on site"), choices=Grade.choices, null=True, blank=True
    )
    certificate_needed = models.ForeignKey(
        CertificateKind, models.PROTECT, related_name="+", null=True, blank=True,
        verbose_name=_("certificate on site"),
    )  # fmt: skip

    class Meta:
        abstract = True
        ordering: ClassVar = ["order", "id"]

    def __str__(self) -> str:
        return self.name


@kept()
class KindVisit(VisitNeeds):
    kind = models.ForeignKey(JobKind, models.CASCADE, related_name="visits")

    class Meta(VisitNeeds.Meta):
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["kind", "name"], name="visit_once_per_kind")
        ]


@kept()
class KindHold(models.Model):
    """What must be so before a visit of this kind may start."""

    visit = models.ForeignKey(KindVisit, models.CASCADE, related_name="holds")
    kind = models.CharField(_("waits for"), max_length=12, choices=choices(HoldKind))
    label = models.CharField(_("what exactly"), max_length=120, blank=True)
    inspection = models.ForeignKey(
        "KindInspection", models.CASCADE, related_name="holds", null=True, blank=True,
        verbose_name=_("which inspection"),
    )  # fmt: skip

    class Meta:
        ordering: ClassVar = ["id"]

    def __str__(self) -> str:
        return self.label or str(self.get_kind_display())


@kept()
class KindInspection(models.Model):
    """An inspection this kind of work is given, and the visit after which it is due."""

    kind = models.ForeignKey(JobKind, models.CASCADE, related_name="inspections")
    name = models.CharField(_("inspection"), max_length=60)
    after = models.ForeignKey(
        KindVisit, models.CASCADE, related_name="inspections", verbose_name=_("after the visit")
    )
    due_days = models.PositiveSmallIntegerField(_("due within days of the visit"), default=5)
    order = models.PositiveSmallIntegerField(default=1)

    class Meta:
        ordering: ClassVar = ["order", "id"]

    def __str__(self) -> str:
        return self.name


@kept()
class KindCloseOut(models.Model):
    """One line of the close-out list of this kind of work."""

    kind = models.ForeignKey(JobKind, models.CASCADE, related_name="close_out")
    label = models.CharField(_("line"), max_length=120)
    asks = models.CharField(_("asks for"), max_length=12, choices=choices(CloseOutKind))
    required = models.BooleanField(_("must be there to close"), default=True)
    may_not_apply = models.BooleanField(_("may be marked “does not apply here”"), default=True)
    order = models.PositiveSmallIntegerField(default=1)

    class Meta:
        ordering: ClassVar = ["order", "id"]

    def __str__(self) -> str:
        return self.label
