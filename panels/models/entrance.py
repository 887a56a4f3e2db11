"""Where the power comes in: what the utility gives, the service conductors, their disconnect."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import FieldRecord, Site
from panels.models.choices import Material, Occupancy, Raceway
from panels.models.limits import POSITIVE, wire_size_shape

PERCENT = [*POSITIVE, MaxValueValidator(30)]
RATIO = [MinValueValidator(0), MaxValueValidator(100)]


@kept()
class ServiceEntrance(FieldRecord):
    """One for each site. What is not known stays empty, and what needs it says so.

    `available_ka` is the utility's figure, line to line, at the point where the service
    conductors begin; without one, the transformer's kVA and impedance give it.
    """

    site = models.OneToOneField(Site, models.PROTECT, related_name="entrance")
    occupancy = models.CharField(
        _("what it serves"), max_length=12, choices=Occupancy.choices, blank=True, default=""
    )
    available_ka = models.FloatField(
        _("available fault current, kA"), null=True, blank=True,
        validators=[*POSITIVE, MaxValueValidator(300)],
        help_text=_("Line to line, as the utility states it. Ask for it in writing."),
    )  # fmt: skip
    available_xr = models.FloatField(
        _("X/R of that figure"), null=True, blank=True, validators=RATIO
    )
    stated_by = models.CharField(
        _("stated by"), max_length=120, blank=True, help_text=_("Who at the utility, and how.")
    )
    stated_on = models.DateField(_("stated on"), null=True, blank=True)
    transformer_kva = models.FloatField(
        _("utility transformer, kVA"), null=True, blank=True, validators=POSITIVE
    )
    transformer_z_percent = models.FloatField(
        _("its impedance, %"), null=True, blank=True, validators=PERCENT
    )
    transformer_xr = models.FloatField(_("its X/R"), null=True, blank=True, validators=RATIO)
    wire_size = models.CharField(
        _("service conductor, AWG or kcmil"), max_length=6, blank=True, validators=[wire_size_shape]
    )
    wire_material = models.CharField(
        _("its metal"), max_length=2, choices=Material.choices, blank=True, default=""
    )
    raceway = models.CharField(
        _("raceway"), max_length=5, choices=Raceway.choices, blank=True, default=""
    )
    wire_sets = models.PositiveSmallIntegerField(
        _("sets in parallel"), default=1, validators=[MinValueValidator(1), MaxValueValidator(12)]
    )
    length_ft = models.FloatField(
        _("length, ft"), null=True, blank=True, validators=[MinValueValidator(0)]
    )
    grounding_size = models.CharField(
        _("grounding-electrode conductor"), max_length=6, blank=True, validators=[wire_size_shape]
    )
    grounding_material = models.CharField(
        _("its metal"), max_length=2, choices=Material.choices, blank=True, default=""
    )
    disconnect_outdoors = models.BooleanField(
        _("a disconnect outdoors, readily accessible"), null=True, blank=True
    )
    disconnect_marked = models.BooleanField(_("that disconnect is marked"), null=True, blank=True)
    disconnect_ka = models.FloatField(
        _("its short-circuit rating, kA"), null=True, blank=True, validators=POSITIVE
    )

    def __str__(self) -> str:
        return str(self.site)
