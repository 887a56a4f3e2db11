"""What the firm has said about planning: supervision by place, and what may be overridden."""

from __future__ import annotations

from typing import ClassVar

from django.core.validators import MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import Grade
from contractor.models.fields import StateField


@kept()
class SupervisionRule(models.Model):
    """How many apprentices one supervisor may have with them; an empty state means anywhere."""

    state = StateField(_("state"), blank=True, unique=True)
    apprentices_per_supervisor = models.PositiveSmallIntegerField(
        _("apprentices for each supervisor"), default=1
    )
    supervisor_grade = models.PositiveSmallIntegerField(
        _("a supervisor holds at least"),
        choices=Grade.choices,
        default=Grade.JOURNEYMAN,
        validators=[MinValueValidator(Grade.RESIDENTIAL)],
    )
    source = models.CharField(_("where this is written"), max_length=200)

    class Meta:
        ordering: ClassVar = ["state"]

    def __str__(self) -> str:
        return f"{self.state or _('anywhere')}: {self.apprentices_per_supervisor}"


@kept()
class OverrideRule(models.Model):
    """Whether the office may insist against one kind of refusal; no row means the usual answer."""

    code = models.CharField(max_length=40, unique=True)
    allowed = models.BooleanField(_("the office may insist"), default=False)

    class Meta:
        ordering: ClassVar = ["code"]

    def __str__(self) -> str:
        return f"{self.code}: {self.allowed}"
