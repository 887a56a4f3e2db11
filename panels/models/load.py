"""What a home draws, which edition counts there, and load calculations as they were made."""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import Authority, FieldRecord, Person, Site
from contractor.models.records import never_altered
from panels.editions import EDITIONS
from panels.models.circuits import Circuit
from panels.models.limits import AMPERES, POSITIVE
from panels.rules.dwelling import Kind
from panels.rules.layout import System
from panels.rules.quantities import show
from panels.rules.questions import QUESTIONS
from panels.rules.supply import SUPPLIES


@kept()
class Home(FieldRecord):
    """What a load calculation has to know about the dwelling itself; one for each site."""

    site = models.OneToOneField(Site, models.PROTECT, related_name="home")
    floor_area_ft2 = models.FloatField(
        _("floor area, ft²"),
        validators=[MinValueValidator(1), MaxValueValidator(100_000)],
        help_text=_(
            "Outside dimensions of every floor, without open porches, garages and space that "
            "cannot be made fit to live in."
        ),
    )
    small_appliance_circuits = models.PositiveSmallIntegerField(
        _("small-appliance circuits"), default=2, validators=[MaxValueValidator(40)]
    )
    laundry_circuits = models.PositiveSmallIntegerField(
        _("laundry circuits"), default=1, validators=[MaxValueValidator(20)]
    )
    system = models.CharField(
        _("voltage system"),
        max_length=12,
        choices=[(system.value, system.label) for system in SUPPLIES],
        default=System.SPLIT_240.value,
    )
    service_a = models.PositiveSmallIntegerField(
        _("service disconnect, A"),
        null=True,
        blank=True,
        validators=AMPERES,
        help_text=_("Empty while it is being chosen."),
    )
    is_feeder = models.BooleanField(
        _("fed by a feeder, not by its own service"),
        default=False,
        help_text=_("An apartment or one side of a two-family house."),
    )
    bathrooms = models.PositiveSmallIntegerField(
        _("bathrooms"), null=True, blank=True, validators=[MaxValueValidator(40)]
    )
    has_garage = models.BooleanField(_("a garage with power"), null=True, blank=True)
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
                condition=models.Q(floor_area_ft2__gt=0), name="home_has_a_floor"
            ),
            models.CheckConstraint(
                condition=models.Q(managed_a__isnull=True) | models.Q(managed_a__gt=0),
                name="home_set_point_above_zero",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.site}, {self.floor_area_ft2:g} ft²"


@kept()
class Load(FieldRecord):
    """One kind of equipment, `count` times, as its nameplate says: never a breaker's rating.

    The nameplate is kept in the unit it was read in; `volts` is needed for amperes, the power
    factor for watts of anything but resistance heat.
    """

    class Unit(models.TextChoices):
        VA = "VA", _("VA")
        KVA = "kVA", _("kVA")
        AMPERE = "A", _("A")
        WATT = "W", _("W")
        KILOWATT = "kW", _("kW")

    site = models.ForeignKey(Site, models.PROTECT, related_name="loads")
    circuit = models.ForeignKey(
        Circuit, models.SET_NULL, related_name="loads", null=True, blank=True,
        verbose_name=_("on circuit"),
    )  # fmt: skip
    kind = models.CharField(
        _("kind"), max_length=16, choices=[(kind.value, kind.label) for kind in Kind]
    )
    name = models.CharField(_("name"), max_length=80)
    nameplate = models.FloatField(_("nameplate"), null=True, blank=True, validators=POSITIVE)
    unit = models.CharField(_("unit"), max_length=3, choices=Unit.choices, default=Unit.VA)
    volts = models.FloatField(
        _("volts"), null=True, blank=True, validators=[*POSITIVE, MaxValueValidator(1000)]
    )
    power_factor = models.FloatField(
        _("power factor"), null=True, blank=True, validators=[*POSITIVE, MaxValueValidator(1)]
    )
    count = models.PositiveSmallIntegerField(
        _("how many"), default=1, validators=[MinValueValidator(1), MaxValueValidator(200)]
    )
    leg = models.CharField(
        _("leg"), max_length=1, blank=True, choices=[("A", "A"), ("B", "B"), ("C", "C")]
    )
    motor = models.BooleanField(_("driven by a motor"), default=False)
    horsepower = models.FloatField(_("horsepower"), null=True, blank=True, validators=POSITIVE)
    starting_a = models.FloatField(
        _("starting current, A"), null=True, blank=True, validators=POSITIVE,
        help_text=_("Locked-rotor current of a motor or compressor, as marked."),
    )  # fmt: skip
    controlled_separately = models.BooleanField(_("each with its own control"), default=False)
    locked_out = models.BooleanField(
        _("compressor stays off while the supplementary heat runs"), default=False
    )
    continuous = models.BooleanField(_("runs three hours or more"), default=False)
    managed = models.BooleanField(_("held down by the energy management"), default=False)
    new = models.BooleanField(_("being added now"), default=False)
    one_of = models.CharField(
        _("never runs together with"), max_length=20, blank=True, default="",
        help_text=_("Loads with the same word here: only the largest of them counts."),
    )  # fmt: skip
    phases = models.PositiveSmallIntegerField(
        _("phases"), default=1, choices=[(1, _("single phase")), (3, _("three phases"))]
    )

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["kind", "name"]
        constraints: ClassVar = [
            models.CheckConstraint(condition=models.Q(count__gte=1), name="load_at_least_one"),
            models.CheckConstraint(
                # "is not null" said apart: a check whose answer is null holds.
                condition=models.Q(nameplate__isnull=False, nameplate__gt=0)
                | models.Q(nameplate__isnull=True, kind=Kind.VEHICLE.value),
                name="load_has_a_nameplate",
            ),
            models.CheckConstraint(
                condition=models.Q(power_factor__isnull=True)
                | models.Q(power_factor__gt=0, power_factor__lte=1),
                name="load_power_factor_in_range",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def rated(self) -> str:
        """The nameplate as read, e.g. 5.5 kW; empty when it is not known."""
        return f"{show(self.nameplate)} {self.unit}" if self.nameplate is not None else ""


@kept()
class Adoption(models.Model):
    """An ordinance: from that day the authority, or the place, follows that edition.

    `amendments` is a list of `{"field", "value", "source"}`, as `panels.rules.adoption` reads it.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    authority = models.ForeignKey(
        Authority,
        models.CASCADE,
        related_name="adoptions",
        null=True,
        blank=True,
        verbose_name=_("authority having jurisdiction"),
    )
    place = models.CharField(
        _("or a place"),
        max_length=120,
        blank=True,
        help_text=_("A city and state, e.g. Harrow Mills, OH, or a state, e.g. OH."),
    )
    since = models.DateField(_("in force since"))
    edition = models.CharField(_("edition"), max_length=8)
    amendments = models.JSONField(_("local amendments"), default=list, blank=True)
    source = models.CharField(_("where this is written"), max_length=200)

    class Meta:
        ordering: ClassVar = ["authority__name", "place", "-since"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=models.Q(authority__isnull=False, place="")
                | (models.Q(authority__isnull=True) & ~models.Q(place="")),
                name="adoption_of_an_authority_or_a_place",
            ),
            models.UniqueConstraint(
                fields=["authority", "since"],
                condition=models.Q(authority__isnull=False),
                name="one_adoption_per_authority_and_day",
            ),
            models.UniqueConstraint(
                fields=["place", "since"],
                condition=models.Q(authority__isnull=True),
                name="one_adoption_per_place_and_day",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.where}: {self.edition}"

    @property
    def where(self) -> str:
        return self.authority.name if self.authority else self.place


class Calculation(models.Model):
    """A question as it was answered: what went in, what came out, by which rules.

    `method` is its key in `panels.rules.questions`; `summary` is the answer in a few words, and
    `total_va` and `amps` are those of a load.

    Never altered; another calculation supersedes it. `edition_by` says where the edition comes
    from: the adoption on record, or who stated it. `software` names the rules' own text.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    site = models.ForeignKey(Site, models.PROTECT, related_name="calculations")
    method = models.CharField(max_length=20)
    edition = models.CharField(max_length=8)
    jurisdiction = models.CharField(max_length=200)
    edition_by = models.CharField(max_length=300)
    on = models.DateField()
    purpose = models.CharField(max_length=200, blank=True)
    inputs = models.JSONField()
    result = models.JSONField()
    summary = models.CharField(max_length=200, blank=True, default="")
    total_va = models.FloatField(null=True)
    amps = models.FloatField(null=True)
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    software = models.CharField(max_length=60)

    class Meta:
        ordering: ClassVar = ["-made_at"]
        triggers: ClassVar = [never_altered()]
        indexes: ClassVar = [models.Index(fields=["site", "-made_at"], name="calculation_of_site")]

    def __str__(self) -> str:
        return f"{self.site}: {self.title}"

    @property
    def title(self) -> str:
        """The question by the name it has today."""
        known = QUESTIONS.get(self.method)
        return known.title if known else self.method

    @property
    def short(self) -> str:
        """The answer in a few words; loads kept before summaries were have their two figures."""
        return self.summary or f"{self.total_va:,.0f} VA, {self.amps:.1f} A"

    @property
    def is_load(self) -> bool:
        return self.total_va is not None

    @property
    def by_what(self) -> str:
        """Method and edition, by the names they have today."""
        edition = EDITIONS.get(self.edition)
        return f"{self.title}, {edition.title if edition else self.edition}"
