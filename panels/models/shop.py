"""What a small shop is, as far as its load calculation has to know; one for each site."""

from __future__ import annotations

from typing import ClassVar

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import FieldRecord, Site
from panels.models.limits import AMPERES, POSITIVE
from panels.rules.layout import System
from panels.rules.shop.premises import Occupancy
from panels.rules.supply import ALL_SUPPLIES

LENGTH = [MinValueValidator(0), MaxValueValidator(10_000)]


@kept()
class Shop(FieldRecord):
    """The facts of a small shop. A site has these or those of a home, never both."""

    site = models.OneToOneField(Site, models.PROTECT, related_name="shop")
    occupancy = models.CharField(
        _("used as"), max_length=20, choices=[(kind.value, kind.label) for kind in Occupancy]
    )
    floor_area_ft2 = models.FloatField(
        _("floor area, ft²"),
        validators=[MinValueValidator(1), MaxValueValidator(1_000_000)],
        help_text=_("Outside dimensions of every floor that is used."),
    )
    lighting_va = models.FloatField(
        _("lighting connected, VA"), null=True, blank=True, validators=POSITIVE,
        help_text=_("All luminaires as marked, where they were counted. The larger counts."),
    )  # fmt: skip
    receptacles = models.PositiveSmallIntegerField(
        _("receptacles"), default=0, validators=[MaxValueValidator(5000)],
        help_text=_("Each yoke, single or duplex, except those counted as loads by themselves."),
    )  # fmt: skip
    show_window_ft = models.FloatField(
        _("show windows, ft"), default=0, validators=LENGTH, help_text=_("Their length, together.")
    )
    track_ft = models.FloatField(_("lighting track, ft"), default=0, validators=LENGTH)
    signs = models.PositiveSmallIntegerField(
        _("sign outlets"), default=1, validators=[MaxValueValidator(50)],
        help_text=_("At least one where the public comes in."),
    )  # fmt: skip
    multioutlet_ft = models.FloatField(
        _("multioutlet assemblies, ft"), default=0, validators=LENGTH,
        help_text=_("Fixed strips whose outlets are seldom used together."),
    )  # fmt: skip
    multioutlet_busy_ft = models.FloatField(
        _("multioutlet assemblies used together, ft"), default=0, validators=LENGTH
    )
    system = models.CharField(
        _("voltage system"),
        max_length=12,
        choices=[(system.value, system.label) for system in ALL_SUPPLIES],
        default=System.WYE_208.value,
    )
    service_a = models.PositiveSmallIntegerField(
        _("service disconnect, A"),
        null=True,
        blank=True,
        validators=AMPERES,
        help_text=_("Empty while it is being chosen."),
    )
    is_feeder = models.BooleanField(_("fed by a feeder, not by its own service"), default=False)
    managed_a = models.FloatField(
        _("set point of the energy management, A"),
        null=True,
        blank=True,
        validators=POSITIVE,
        help_text=_("Only where a listed energy management system holds loads down."),
    )

    class Meta(FieldRecord.Meta):
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=models.Q(floor_area_ft2__gt=0), name="shop_has_a_floor"
            ),
            models.CheckConstraint(
                condition=models.Q(managed_a__isnull=True) | models.Q(managed_a__gt=0),
                name="shop_set_point_above_zero",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.site}, {self.get_occupancy_display()}"
