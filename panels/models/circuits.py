"""What sits in the spaces of a panel: breakers, what hangs on them, and their conductors."""

from __future__ import annotations

from typing import ClassVar

from django.contrib.postgres.constraints import ExclusionConstraint
from django.contrib.postgres.fields import ArrayField, RangeOperators
from django.contrib.postgres.indexes import GinIndex
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import FieldRecord
from panels.models.choices import Celsius, Material, Raceway, Serves, Tap
from panels.models.limits import AMPERES, POSITIVE, wire_size_shape
from panels.models.panels import Panel
from panels.models.slots import SlotsField
from panels.rules.layout import Frame, Half, Seat, seat
from panels.rules.rooms import Room


@kept()
class Circuit(FieldRecord):
    """A breaker in its spaces and what hangs on it; a spare is a breaker with nothing on it.

    `slots` is where it sits on the bus, in half spaces counted down one column, so the
    database itself refuses two breakers in one place (`panels.rules.layout`).
    `shed_order` counts from 1, switched off first, and says nothing unless it is backed up.
    """

    class Kind(models.TextChoices):
        BRANCH = "branch", _("circuit")
        FEEDER = "feeder", _("feeder")
        SOURCE = "source", _("source")
        SPARE = "spare", _("spare")

    class Protection(models.TextChoices):
        NONE = "none", _("plain")
        GFCI = "gfci", _("ground-fault (GFCI)")
        AFCI = "afci", _("arc-fault (AFCI)")
        DUAL = "dual", _("both (AFCI and GFCI)")
        UNKNOWN = "", _("not recorded")

    Material = Material

    panel = models.ForeignKey(Panel, models.CASCADE, related_name="circuits")
    kind = models.CharField(_("kind"), max_length=8, choices=Kind.choices, default=Kind.BRANCH)
    space = models.PositiveSmallIntegerField(_("space"))
    half = models.CharField(
        _("half of a tandem"),
        max_length=1,
        blank=True,
        choices=[(half.value, half.label) for half in Half],
    )
    poles = models.PositiveSmallIntegerField(_("poles"), default=1)
    rating_a = models.PositiveSmallIntegerField(_("breaker, A"), validators=AMPERES)
    name = models.CharField(_("what it serves"), max_length=80, blank=True)
    protection = models.CharField(
        _("protection"), max_length=8, choices=Protection.choices, blank=True, default=""
    )
    slots = SlotsField(editable=False)
    wire_size = models.CharField(
        _("conductor, AWG or kcmil"), max_length=6, blank=True, validators=[wire_size_shape]
    )
    wire_material = models.CharField(
        _("conductor metal"), max_length=2, choices=Material.choices, blank=True, default=""
    )
    length_ft = models.FloatField(
        _("length, ft"), null=True, blank=True, validators=[MinValueValidator(0)]
    )
    wire_sets = models.PositiveSmallIntegerField(
        _("sets in parallel"), default=1, validators=[MinValueValidator(1), MaxValueValidator(12)]
    )
    insulation_c = models.PositiveSmallIntegerField(
        _("insulation"), null=True, blank=True, choices=Celsius.choices
    )
    terminal_c = models.PositiveSmallIntegerField(
        _("lowest terminal marking"), null=True, blank=True, choices=Celsius.choices
    )
    raceway = models.CharField(
        _("raceway"), max_length=5, choices=Raceway.choices, blank=True, default=""
    )
    bundled = models.PositiveSmallIntegerField(
        _("current-carrying conductors together"), null=True, blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(100)],
    )  # fmt: skip
    ambient_c = models.FloatField(
        _("surroundings, °C"), null=True, blank=True,
        validators=[MinValueValidator(-40), MaxValueValidator(85)],
    )  # fmt: skip
    neutral_size = models.CharField(
        _("neutral"), max_length=6, blank=True, validators=[wire_size_shape]
    )
    ground_size = models.CharField(
        _("equipment grounding conductor"), max_length=6, blank=True, validators=[wire_size_shape]
    )
    interrupting_ka = models.FloatField(
        _("interrupting rating, kA"), null=True, blank=True, validators=POSITIVE
    )
    full_rated = models.BooleanField(
        _("marked for 100 % of its rating continuously"), default=False
    )
    tied = models.BooleanField(_("handle tied to its neighbour’s"), null=True, blank=True)
    grouped = models.BooleanField(
        _("its conductors are grouped where they start"), null=True, blank=True
    )
    locked = models.BooleanField(_("stays in its place"), default=False)
    tap_rule = models.CharField(
        _("tapped under"), max_length=8, choices=Tap.choices, blank=True, default=""
    )
    serves = models.CharField(
        _("outlets"), max_length=12, choices=Serves.choices, blank=True, default=""
    )
    areas = ArrayField(
        models.CharField(max_length=20, choices=[(room.value, room.label) for room in Room]),
        verbose_name=_("rooms it serves"), default=list, blank=True,
    )  # fmt: skip
    multiwire = models.CharField(_("multiwire group"), max_length=8, blank=True)
    backed_up = models.BooleanField(_("backed up"), default=False)
    shed_order = models.PositiveSmallIntegerField(
        _("shed order"),
        null=True,
        blank=True,
        validators=[MinValueValidator(1)],
        help_text=_("1 is switched off first."),
    )
    notes = models.CharField(_("notes"), max_length=200, blank=True)

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["slots"]
        constraints: ClassVar = [
            ExclusionConstraint(
                name="one_breaker_per_space",
                expressions=[("panel", RangeOperators.EQUAL), ("slots", RangeOperators.OVERLAPS)],
                deferrable=models.Deferrable.DEFERRED,
            ),
            models.CheckConstraint(
                condition=models.Q(poles__in=[1, 2, 3]), name="one_to_three_poles"
            ),
            models.CheckConstraint(
                condition=models.Q(kind="spare") | ~models.Q(name=""),
                name="circuit_in_use_is_named",
                violation_error_message=_("Say what it serves, or mark the breaker as a spare."),
            ),
        ]
        indexes: ClassVar = [
            GinIndex(fields=["name"], opclasses=["gin_trgm_ops"], name="circuit_name_like"),
            models.Index(fields=["-changed_at"], name="circuit_latest"),
        ]

    def __str__(self) -> str:
        return self.name or str(self.get_kind_display())

    def seat_in(self, frame: Frame) -> Seat:
        """Its seat on this backplate. Raises `LayoutError`."""
        return seat(
            frame,
            space=self.space,
            poles=self.poles,
            half=Half(self.half) if self.half else None,
        )
