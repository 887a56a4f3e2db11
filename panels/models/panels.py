"""What is installed: the panels of a site and what feeds them."""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import FieldRecord, Site
from panels.models.limits import AMPERES, POSITIVE
from panels.rules.layout import Frame, Numbering, System
from panels.rules.places import read_spaces


@kept()
class Panel(FieldRecord):
    """A panelboard: its nameplate, where it is and what feeds it.

    `main_a` is empty for main lugs only. `fed_from` is the feeder's breaker in another panel;
    empty means fed by the service.
    """

    class Mounting(models.TextChoices):
        SURFACE = "surface", _("surface")
        FLUSH = "flush", _("flush")
        PEDESTAL = "pedestal", _("pedestal")

    site = models.ForeignKey(Site, models.PROTECT, related_name="panels")
    name = models.CharField(_("name"), max_length=60)
    location = models.CharField(_("location"), max_length=120, blank=True)
    mounting = models.CharField(
        _("mounting"), max_length=10, choices=Mounting.choices, default=Mounting.SURFACE
    )
    outdoors = models.BooleanField(_("outdoors"), default=False)
    system = models.CharField(
        _("voltage system"),
        max_length=12,
        choices=[(system.value, system.label) for system in System],
        default=System.SPLIT_240.value,
    )
    rating_a = models.PositiveSmallIntegerField(_("panel rating, A"), validators=AMPERES)
    bus_a = models.PositiveSmallIntegerField(_("bus rating, A"), validators=AMPERES)
    main_a = models.PositiveSmallIntegerField(
        _("main breaker, A"), null=True, blank=True, validators=AMPERES
    )
    interrupting_ka = models.FloatField(
        _("short-circuit rating, kA"), null=True, blank=True, validators=POSITIVE
    )
    spaces = models.PositiveSmallIntegerField(
        _("spaces"), validators=[MinValueValidator(1), MaxValueValidator(84)]
    )
    numbering = models.CharField(
        _("numbers on the backplate"),
        max_length=8,
        choices=[(numbering.value, numbering.label) for numbering in Numbering],
        default=Numbering.ACROSS.value,
    )
    tandem_spaces = models.CharField(
        _("spaces that take a tandem"),
        max_length=120,
        blank=True,
        help_text=_("As marked on the door, e.g. 21-42. Empty: not recorded."),
    )
    feed_through_lugs = models.BooleanField(_("feed-through lugs"), default=False)
    fed_from = models.OneToOneField(
        "Circuit",
        models.PROTECT,
        related_name="feeds",
        null=True,
        blank=True,
        verbose_name=_("fed from"),
    )
    fed_through = models.ForeignKey(
        "self",
        models.PROTECT,
        related_name="feeds_through",
        null=True,
        blank=True,
        verbose_name=_("fed from the feed-through lugs of"),
    )
    directory_at = models.CharField(_("where the directory is"), max_length=120, blank=True)
    supply_marked = models.BooleanField(
        _("marked with what feeds it, permanently"), null=True, blank=True
    )
    fault_marked_ka = models.FloatField(
        _("marked available fault current, kA"), null=True, blank=True, validators=POSITIVE
    )
    fault_marked_on = models.DateField(_("date on that marking"), null=True, blank=True)
    transformer_kva = models.FloatField(
        _("fed through a transformer, kVA"), null=True, blank=True, validators=POSITIVE
    )
    transformer_z_percent = models.FloatField(
        _("impedance of that transformer, %"), null=True, blank=True,
        validators=[*POSITIVE, MaxValueValidator(30)],
    )  # fmt: skip
    transformer_xr = models.FloatField(
        _("X/R of that transformer"), null=True, blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(100)],
    )  # fmt: skip
    secondary_protected_a = models.PositiveSmallIntegerField(
        _("protection on its secondary side, A"), null=True, blank=True, validators=AMPERES
    )
    notes = models.TextField(_("notes"), blank=True)
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["name"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["site", "name"],
                condition=models.Q(retired_at__isnull=True),
                name="panel_name_once_per_site",
            ),
            models.CheckConstraint(
                condition=models.Q(fed_from__isnull=True) | models.Q(fed_through__isnull=True),
                name="panel_fed_one_way",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def upstream_id(self) -> uuid.UUID | None:
        """The key of the panel that feeds this one; None: the service."""
        return self.fed_from.panel_id if self.fed_from else self.fed_through_id

    @property
    def frame(self) -> Frame:
        """The backplate, for `panels.rules.layout`. Raises `LayoutError`."""
        return Frame(
            spaces=self.spaces,
            numbering=Numbering(self.numbering),
            system=System(self.system),
            tandem=read_spaces(self.tandem_spaces, spaces=self.spaces),
        )
