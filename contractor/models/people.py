"""People, what they are licensed for, the crews they make up and when they are away."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import Any, ClassVar

from django.contrib.auth.models import AbstractBaseUser, BaseUserManager
from django.contrib.postgres.constraints import ExclusionConstraint
from django.contrib.postgres.fields import RangeOperators
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models.functions import Lower
from django.utils.crypto import salted_hmac
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models.fields import MailField, PhoneField, StateField
from contractor.ranges import DateRange


class Role(models.TextChoices):
    COORDINATOR = "coordinator", _("office coordinator")
    TECHNICIAN = "technician", _("technician")
    OWNER = "owner", _("owner")


class Grade(models.IntegerChoices):
    """Licence grades in rising order; a higher grade may do the work of a lower one.

    Grades and their order differ by state: common practice, no source.
    """

    APPRENTICE = 10, _("apprentice")
    RESIDENTIAL = 20, _("residential wireman")
    JOURNEYMAN = 30, _("journeyman")
    MASTER = 40, _("master")


class PersonManager(BaseUserManager["Person"]):
    def create_user(self, email: str, password: str | None = None, **fields: Any) -> Person:
        person = self.model(email=self.normalize_email(email).lower(), **fields)
        person.set_password(password)
        person.save()
        return person

    def create_superuser(self, email: str, password: str | None = None, **fields: Any) -> Person:
        return self.create_user(email, password, role=Role.OWNER, **fields)

    def get_by_natural_key(self, email: str | None) -> Person:
        return self.get(email__iexact=email)


@kept(exclude=["password", "last_login", "sign_in_round"])
class Person(AbstractBaseUser):  # type: ignore[django-manager-missing]  # the manager of knox
    """Someone who works here; signs in with the e-mail address once a password is set."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    name = models.CharField(_("name"), max_length=120)
    email = MailField(_("e-mail"), unique=True)
    phone = PhoneField(_("phone"), blank=True)
    role = models.CharField(_("role"), max_length=12, choices=Role.choices)
    is_active = models.BooleanField(_("works here now"), default=True)
    sign_in_round = models.PositiveIntegerField(default=0, editable=False)

    USERNAME_FIELD = "email"
    REQUIRED_FIELDS: ClassVar = ["name"]
    objects = PersonManager()

    class Meta:
        ordering: ClassVar = ["name"]
        verbose_name_plural = "people"
        constraints: ClassVar = [
            models.UniqueConstraint(Lower("email"), name="one_person_per_email"),
        ]

    def __str__(self) -> str:
        return self.name

    def _get_session_auth_hash(self, secret: str | None = None) -> str:
        """A session is good for one password and one round: the next round ends them all."""
        return salted_hmac(
            "contractor.person.session",
            f"{self.password}:{self.sign_in_round}",
            secret=secret,
            algorithm="sha256",
        ).hexdigest()

    @property
    def is_owner(self) -> bool:
        return self.role == Role.OWNER

    @property
    def is_office(self) -> bool:
        return self.role in (Role.OWNER, Role.COORDINATOR)


@kept()
class Licence(models.Model):
    """A licence a person holds, with the last day it is good."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="licences")
    grade = models.PositiveSmallIntegerField(_("grade"), choices=Grade.choices)
    number = models.CharField(_("licence number"), max_length=40, blank=True)
    state = StateField(_("state"), blank=True)
    expires_on = models.DateField(_("last day good"), null=True, blank=True)

    class Meta:
        ordering: ClassVar = ["-grade"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["person", "grade", "state"], name="one_licence_per_grade_and_state"
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_grade_display()} {self.number}".strip()

    def good_on(self, day: dt.date) -> bool:
        return self.expires_on is None or self.expires_on >= day


class CertificateKind(models.Model):
    """A training or manufacturer's certificate that some work asks for."""

    name = models.CharField(_("name"), max_length=80, unique=True)

    class Meta:
        ordering: ClassVar = ["name"]

    def __str__(self) -> str:
        return self.name


@kept()
class Certificate(models.Model):
    person = models.ForeignKey(Person, models.CASCADE, related_name="certificates")
    kind = models.ForeignKey(CertificateKind, models.PROTECT, verbose_name=_("certificate"))
    number = models.CharField(_("number"), max_length=40, blank=True)
    expires_on = models.DateField(_("last day good"), null=True, blank=True)

    class Meta:
        ordering: ClassVar = ["kind__name"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["person", "kind"], name="one_certificate_per_kind")
        ]

    def __str__(self) -> str:
        return str(self.kind)

    def good_on(self, day: dt.date) -> bool:
        return self.expires_on is None or self.expires_on >= day


@kept()
class Crew(models.Model):
    """People who go out together, as they usually stand."""

    name = models.CharField(_("name"), max_length=60, unique=True)
    lead = models.ForeignKey(
        Person, models.PROTECT, related_name="+", verbose_name=_("lead"), null=True, blank=True
    )
    people = models.ManyToManyField(
        Person, through="CrewMember", related_name="crews", verbose_name=_("people")
    )
    vehicle = models.CharField(_("vehicle"), max_length=60, blank=True)
    is_active = models.BooleanField(_("goes out"), default=True)

    class Meta:
        ordering: ClassVar = ["name"]

    def __str__(self) -> str:
        return self.name


@kept()
class CrewMember(models.Model):
    """A person's usual place in a crew; its own row so that its changes are kept too."""

    crew = models.ForeignKey(Crew, models.CASCADE, related_name="members")
    person = models.ForeignKey(Person, models.CASCADE, related_name="memberships")

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["crew", "person"], name="once_in_a_crew")
        ]

    def __str__(self) -> str:
        return f"{self.person} in {self.crew}"


@kept()
class Absence(models.Model):
    """Days a person is away, first and last day included."""

    class Reason(models.TextChoices):
        SICK = "sick", _("sick")
        VACATION = "vacation", _("vacation")
        TRAINING = "training", _("training")
        OTHER = "other", _("other")

    person = models.ForeignKey(Person, models.CASCADE, related_name="absences")
    first_day = models.DateField(_("first day"))
    last_day = models.DateField(_("last day"))
    reason = models.CharField(_("reason"), max_length=10, choices=Reason.choices)
    note = models.CharField(_("note"), max_length=200, blank=True)

    class Meta:
        ordering: ClassVar = ["-first_day"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=models.Q(last_day__gte=models.F("first_day")),
                name="absence_ends_after_start",
            ),
            ExclusionConstraint(
                name="one_absence_at_a_time",
                expressions=[
                    ("person", RangeOperators.EQUAL),
                    (
                        DateRange("first_day", "last_day", models.Value("[]")),
                        RangeOperators.OVERLAPS,
                    ),
                ],
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person}: {self.get_reason_display()} {self.first_day} – {self.last_day}"

    def clean(self) -> None:
        if self.first_day and self.last_day and self.last_day < self.first_day:
            raise ValidationError({"last_day": _("The last day comes before the first.")})
        if self.first_day and self.last_day and self._while_away().exists():
            raise ValidationError({"first_day": _("Some of these days are entered already.")})

    def _while_away(self) -> models.QuerySet[Absence]:
        others = Absence.objects.filter(person=self.person_id).exclude(pk=self.pk)
        return others.filter(first_day__lte=self.last_day, last_day__gte=self.first_day)
