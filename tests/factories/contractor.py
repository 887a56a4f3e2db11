"""The firm's rows, invented: Tallow Creek Electric of Harrow Mills, Ohio."""

from __future__ import annotations

import datetime as dt
import uuid

import factory
from django.utils import timezone
from factory.django import DjangoModelFactory

from contractor import models

PASSWORD = "copper-before-noon"


class FirmFactory(DjangoModelFactory):
    class Meta:
        model = models.Firm
        django_get_or_create = ("id",)

    id = 1
    name = "Tallow Creek Electric"
    licence_number = "EL-40871"
    phone = "+16145550100"
    email = "office@tallowcreek.example"
    street = "12 Mill Race"
    city = "Harrow Mills"
    state = "OH"
    zip = "43099"
    time_zone = "America/New_York"


class PersonFactory(DjangoModelFactory):
    class Meta:
        model = models.Person
        skip_postgeneration_save = True

    name = factory.Sequence(lambda number: f"Person {number}")
    email = factory.Sequence(lambda number: f"person{number}@tallowcreek.example")
    phone = factory.Sequence(lambda number: f"+1614555{100 + number % 100:04d}")
    role = models.Role.TECHNICIAN

    @factory.post_generation
    def password(person: models.Person, create: bool, extracted: str | None) -> None:
        person.set_password(extracted or PASSWORD)
        if create:
            person.save(update_fields=["password"])


class OwnerFactory(PersonFactory):
    role = models.Role.OWNER


class CoordinatorFactory(PersonFactory):
    role = models.Role.COORDINATOR


class TechnicianFactory(PersonFactory):
    role = models.Role.TECHNICIAN


class LicenceFactory(DjangoModelFactory):
    class Meta:
        model = models.Licence

    person = factory.SubFactory(PersonFactory)
    grade = models.Grade.JOURNEYMAN
    number = factory.Sequence(lambda number: f"J-{4000 + number}")
    state = "OH"
    expires_on = dt.date(2027, 6, 30)


class CertificateKindFactory(DjangoModelFactory):
    class Meta:
        model = models.CertificateKind
        django_get_or_create = ("name",)

    name = "Battery storage"


class CertificateFactory(DjangoModelFactory):
    class Meta:
        model = models.Certificate

    person = factory.SubFactory(PersonFactory)
    kind = factory.SubFactory(CertificateKindFactory)
    expires_on = dt.date(2027, 6, 30)


class CrewFactory(DjangoModelFactory):
    class Meta:
        model = models.Crew
        skip_postgeneration_save = True

    name = factory.Sequence(lambda number: f"Crew {number}")
    vehicle = factory.Sequence(lambda number: f"Van {number}")

    @factory.post_generation
    def people(crew: models.Crew, create: bool, extracted: list[models.Person] | None) -> None:
        for person in extracted or []:
            models.CrewMember.objects.create(crew=crew, person=person)


class AbsenceFactory(DjangoModelFactory):
    class Meta:
        model = models.Absence

    person = factory.SubFactory(PersonFactory)
    first_day = dt.date(2026, 12, 21)
    last_day = dt.date(2026, 12, 31)
    reason = models.Absence.Reason.VACATION


class AuthorityFactory(DjangoModelFactory):
    class Meta:
        model = models.Authority
        django_get_or_create = ("name",)

    name = "Harrow Mills Building Department"
    phone = "+16145550110"


class UtilityFactory(DjangoModelFactory):
    class Meta:
        model = models.Utility
        django_get_or_create = ("name",)

    name = "Scioto Valley Power"
    phone = "+16145550120"


class CustomerFactory(DjangoModelFactory):
    class Meta:
        model = models.Customer

    name = factory.Sequence(lambda number: f"Avery Quill {number}")
    phone = factory.Sequence(lambda number: f"+1740555{100 + number % 100:04d}")
    email = factory.Sequence(lambda number: f"customer{number}@mail.example")


class SiteFactory(DjangoModelFactory):
    class Meta:
        model = models.Site

    customer = factory.SubFactory(CustomerFactory)
    street = factory.Sequence(lambda number: f"{100 + number} Wheelwright Lane")
    city = "Harrow Mills"
    state = "OH"
    zip = "43099"
    latitude = 40.05
    longitude = -82.95
    placed = models.Site.Placed.BY_HAND
    time_zone = "America/New_York"
    authority = factory.SubFactory(AuthorityFactory)
    utility = factory.SubFactory(UtilityFactory)


class LinkFactory(DjangoModelFactory):
    class Meta:
        model = models.CustomerLink

    id = factory.LazyFunction(uuid.uuid4)
    site = factory.SubFactory(SiteFactory)
    purpose = models.CustomerLink.Purpose.MAIL
    created_at = factory.LazyFunction(timezone.now)
    expires_at = factory.LazyAttribute(lambda link: link.created_at + dt.timedelta(days=90))
