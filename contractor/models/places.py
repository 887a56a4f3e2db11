"""Customers, their sites, and who has a say there: the authority and the utility."""

from __future__ import annotations

import uuid
import zoneinfo
from typing import ClassVar

from django.contrib.postgres.indexes import GinIndex, OpClass
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models.functions import Upper
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models.fields import MailField, PhoneField, StateField, ZipField
from contractor.models.firm import check_time_zone
from contractor.models.people import Person
from contractor.models.records import FieldRecord


def holds(column: str, name: str) -> GinIndex:
    """An index for “has these letters somewhere”, without case."""
    return GinIndex(OpClass(Upper(column), name="gin_trgm_ops"), name=name)


@kept()
class Authority(models.Model):
    """An authority having jurisdiction: who issues the permits and inspects the work."""

    class ExpiryFrom(models.TextChoices):
        ISSUE = "issue", _("the day of issue")
        INSPECTION = "inspection", _("the last inspection")
        PASSED = "passed", _("the last inspection passed")

    name = models.CharField(_("name"), max_length=120, unique=True)
    phone = PhoneField(_("phone"), blank=True)
    email = MailField(_("e-mail"), blank=True)
    permit_days = models.PositiveSmallIntegerField(_("days a permit stays good"), default=180)
    permit_days_from = models.CharField(
        _("counted from"), max_length=10, choices=ExpiryFrom.choices, default=ExpiryFrom.INSPECTION
    )
    source = models.CharField(_("where this is written"), max_length=200, blank=True)
    inspection_notes = models.TextField(_("how to book an inspection"), blank=True)

    class Meta:
        ordering: ClassVar = ["name"]
        verbose_name_plural = "authorities"

    def __str__(self) -> str:
        return self.name


@kept()
class Utility(models.Model):
    """The company whose conductors end at the service."""

    name = models.CharField(_("name"), max_length=120, unique=True)
    phone = PhoneField(_("phone for cut and reconnect"), blank=True)
    notes = models.TextField(_("how to book a cut-over"), blank=True)

    class Meta:
        ordering: ClassVar = ["name"]
        verbose_name_plural = "utilities"

    def __str__(self) -> str:
        return self.name


@kept()
class Customer(FieldRecord):
    name = models.CharField(_("name"), max_length=120)
    phone = PhoneField(_("phone"), blank=True)
    email = MailField(_("e-mail"), blank=True)
    street = models.CharField(_("street"), max_length=120, blank=True)
    city = models.CharField(_("city"), max_length=80, blank=True)
    state = StateField(_("state"), blank=True)
    zip = ZipField(_("ZIP code"), blank=True)
    notes = models.TextField(_("notes"), blank=True)
    list_key = models.CharField(
        _("number in your own list"), max_length=60, null=True, blank=True, unique=True
    )
    created_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["name"]
        indexes: ClassVar = [
            GinIndex(fields=["name"], opclasses=["gin_trgm_ops"], name="customer_name_like"),
            holds("name", "customer_name_holds"),
            holds("email", "customer_email_holds"),
            holds("street", "customer_street_holds"),
            GinIndex(fields=["phone"], opclasses=["gin_trgm_ops"], name="customer_phone_holds"),
            models.Index(fields=["name", "id"], name="customer_by_name"),
            models.Index(fields=["street"], name="customer_by_street"),
            models.Index(fields=["phone"], name="customer_phone"),
            models.Index(fields=["email"], name="customer_email"),
        ]

    def __str__(self) -> str:
        return self.name


@kept()
class Site(FieldRecord):
    """A place with a service: what the trade means by a site."""

    class Placed(models.TextChoices):
        BY_HAND = "hand", _("set by hand")
        BY_LIST = "list", _("from the list")
        BY_ZIP = "zip", _("middle of the ZIP code")
        UNKNOWN = "unknown", _("not known")

    customer = models.ForeignKey(
        Customer, models.PROTECT, related_name="sites", verbose_name=_("customer")
    )
    label = models.CharField(_("what you call it"), max_length=80, blank=True)
    street = models.CharField(_("street"), max_length=120)
    city = models.CharField(_("city"), max_length=80)
    state = StateField(_("state"))
    zip = ZipField(_("ZIP code"))
    latitude = models.FloatField(
        _("latitude"),
        null=True,
        blank=True,
        validators=[MinValueValidator(-90), MaxValueValidator(90)],
    )
    longitude = models.FloatField(
        _("longitude"),
        null=True,
        blank=True,
        validators=[MinValueValidator(-180), MaxValueValidator(180)],
    )
    placed = models.CharField(max_length=8, choices=Placed.choices, default=Placed.UNKNOWN)
    time_zone = models.CharField(_("time zone"), max_length=40, validators=[check_time_zone])
    authority = models.ForeignKey(
        Authority,
        models.PROTECT,
        related_name="sites",
        verbose_name=_("authority having jurisdiction"),
        null=True,
        blank=True,
    )
    utility = models.ForeignKey(
        Utility,
        models.PROTECT,
        related_name="sites",
        verbose_name=_("utility"),
        null=True,
        blank=True,
    )
    access_notes = models.TextField(_("gate, key and parking"), blank=True)
    pet_notes = models.CharField(_("pets"), max_length=200, blank=True)
    created_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["street"]
        indexes: ClassVar = [
            GinIndex(fields=["street"], opclasses=["gin_trgm_ops"], name="site_street_like"),
            holds("street", "site_street_holds"),
            holds("label", "site_label_holds"),
            holds("city", "site_city_holds"),
            models.Index(fields=["street", "city", "id"], name="site_by_street"),
        ]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=models.Q(latitude__isnull=True, longitude__isnull=True)
                | models.Q(latitude__range=(-90, 90), longitude__range=(-180, 180)),
                name="site_coordinates_in_range",
            )
        ]

    def __str__(self) -> str:
        return self.address

    @property
    def address(self) -> str:
        return f"{self.street}, {self.city}, {self.state} {self.zip}"

    @property
    def zone(self) -> zoneinfo.ZoneInfo:
        return zoneinfo.ZoneInfo(self.time_zone)


class NotTheSame(models.Model):
    """Two customers a person has looked at and found to be different people."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    one = models.ForeignKey(Customer, models.CASCADE, related_name="+")
    other = models.ForeignKey(Customer, models.CASCADE, related_name="+")

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["one", "other"], name="told_apart_once"),
            models.CheckConstraint(
                condition=models.Q(one__lt=models.F("other")), name="told_apart_in_order"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.one} is not {self.other}"


class Merge(models.Model):
    """Two entries of one customer that a person made one; `dropped` keeps the other as it was."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    kept = models.ForeignKey(Customer, models.CASCADE, related_name="merges")
    dropped_id = models.UUIDField(unique=True)
    dropped = models.JSONField()
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering: ClassVar = ["-at"]

    def __str__(self) -> str:
        return f"{self.dropped['name']} into {self.kept}"
