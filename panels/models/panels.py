"""What is installed: the panels of a site, their spaces, and what feeds them."""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.contrib.postgres.constraints import ExclusionConstraint
from django.contrib.postgres.fields import ArrayField, RangeOperators
from django.contrib.postgres.indexes import GinIndex
from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import FieldRecord, Site
from panels.models.choices import Celsius, Material, Position, Raceway, Serves, Tap, Transfer
from panels.models.slots import SlotsField
from panels.rules.layout import Frame, Half, Numbering, Seat, System, seat
from panels.rules.places import read_spaces
from panels.rules.rooms import Room

AMPERES = [MinValueValidator(1), MaxValueValidator(6000)]
wire_size_shape = RegexValidator(r"^(\d/0|\d{1,4})$", _("Write a size such as 12, 2/0 or 250."))
POSITIVE = [MinValueValidator(0.001)]


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
    tied = models.BooleanField(_("handle tied to its neighbour’s"), default=False)
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


@kept()
class Source(FieldRecord):
    """Equipment on site that can feed the panels, or draws on them like nothing else does."""

    class Kind(models.TextChoices):
        STORAGE = "storage", _("battery storage")
        SOLAR = "solar", _("solar")
        GENERATOR = "generator", _("standby generator")
        VEHICLE = "vehicle", _("vehicle supply equipment")

    site = models.ForeignKey(Site, models.PROTECT, related_name="sources")
    kind = models.CharField(_("kind"), max_length=10, choices=Kind.choices)
    name = models.CharField(_("name"), max_length=80)
    circuit = models.ForeignKey(
        Circuit, models.SET_NULL, related_name="sources", null=True, blank=True,
        verbose_name=_("connected at"),
    )  # fmt: skip
    location = models.CharField(_("location"), max_length=120, blank=True)
    disconnect_at = models.CharField(_("where its disconnect is"), max_length=120, blank=True)
    rated_a = models.FloatField(_("rated output, A"), null=True, blank=True, validators=POSITIVE)
    rated_kva = models.FloatField(
        _("rated output, kVA"), null=True, blank=True, validators=POSITIVE
    )
    surge_kva = models.FloatField(
        _("surge output, kVA"), null=True, blank=True, validators=POSITIVE
    )
    usable_kwh = models.FloatField(
        _("usable energy, kWh"), null=True, blank=True, validators=POSITIVE
    )
    position = models.CharField(
        _("on the bus"), max_length=10, choices=Position.choices, blank=True, default=""
    )
    labelled = models.BooleanField(_("its label is on the panel"), null=True, blank=True)
    transfer = models.CharField(
        _("transfer"), max_length=10, choices=Transfer.choices, blank=True, default=""
    )
    altitude_ft = models.FloatField(
        _("altitude, ft"), null=True, blank=True,
        validators=[MinValueValidator(-500), MaxValueValidator(15_000)],
    )  # fmt: skip
    fuel = models.CharField(_("fuel"), max_length=20, blank=True)
    fuel_unit = models.CharField(
        _("fuel is measured in"), max_length=12, blank=True, help_text=_("gal, ft³, therm ...")
    )
    fuel_full_per_h = models.FloatField(
        _("fuel in an hour at full load"), null=True, blank=True, validators=POSITIVE
    )
    fuel_half_per_h = models.FloatField(
        _("fuel in an hour at half load"), null=True, blank=True, validators=POSITIVE
    )
    fuel_on_hand = models.FloatField(
        _("fuel on hand"), null=True, blank=True, validators=POSITIVE,
        help_text=_("Empty for a pipe from the street."),
    )  # fmt: skip
    peak_kw = models.FloatField(_("array, kW"), null=True, blank=True, validators=POSITIVE)
    hourly = ArrayField(
        models.FloatField(validators=[MinValueValidator(0), MaxValueValidator(1)]),
        verbose_name=_("output by hour, as a part of the array"), size=24, null=True, blank=True,
        help_text=_("24 numbers from 0 to 1, midnight first. Empty: a plain clear day."),
    )  # fmt: skip
    notes = models.TextField(_("notes"), blank=True)

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["kind", "name"]

    def __str__(self) -> str:
        return self.name
