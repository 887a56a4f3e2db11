"""Add and change people, what they hold, when they are away, and whether they may come in."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.db.models import F
from django.utils.translation import gettext as _

from contractor import access
from contractor.errors import Refused
from contractor.history import recorded
from contractor.models import (
    Absence,
    Certificate,
    Device,
    Licence,
    PasswordLetter,
    Person,
    Role,
)
from contractor.services.letters import owe_letter
from contractor.services.saving import save_clean


@recorded
def add_person(
    *,
    values: Mapping[str, Any],
    by: Person,
    now: dt.datetime,
    invite: bool = True,
    id: uuid.UUID | None = None,
) -> Person:
    """A new person, without a password; invited, they get a mail with which to set one."""
    person = Person(id=id or uuid.uuid4(), **values)
    _may_change(by, person)
    person.email = person.email.lower()
    person.set_unusable_password()
    save_clean(person)
    if invite:
        owe_letter(email=person.email, why=PasswordLetter.Why.INVITED, now=now)
    return person


@recorded
def change_person(
    *, person: Person, values: Mapping[str, Any], by: Person, now: dt.datetime
) -> Person:
    """Change a person. Who stops working here is out at once, on every browser and device."""
    owners = _locked_owners()
    person = Person.objects.select_for_update().get(pk=person.pk)
    _may_change(by, person)
    was = (person.role, person.is_active)
    for name, value in values.items():
        setattr(person, name, value)
    person.email = person.email.lower()
    _may_change(by, person)
    if was[1] and not person.is_active and person == by:
        raise Refused("not_oneself", _("You cannot end your own work here. Ask another owner."))
    if was == (Role.OWNER, True) and not (person.is_owner and person.is_active):
        _another_owner(owners, person)
    save_clean(person)
    if was[1] and not person.is_active:
        shut_out(person=person)
    return person


@transaction.atomic
def shut_out(*, person: Person, devices: bool = True) -> None:
    """End every session of the person, and every device's token."""
    Person.objects.filter(pk=person.pk).update(sign_in_round=F("sign_in_round") + 1)
    person.refresh_from_db(fields=["sign_in_round"])
    if devices:
        Device.objects.filter(user=person).delete()


@recorded
def invite(*, person: Person, by: Person, now: dt.datetime) -> None:
    """Send the mail with which to set a password, once more."""
    _may_change(by, person)
    if not person.is_active:
        raise Refused("not_here", _("Only people who work here now can be invited."))
    owe_letter(email=person.email, why=PasswordLetter.Why.INVITED, now=now)


@recorded
def save_licence(*, licence: Licence, by: Person) -> Licence:
    _may_change(by, licence.person)
    return save_clean(licence)


@recorded
def save_certificate(*, certificate: Certificate, by: Person) -> Certificate:
    _may_change(by, certificate.person)
    return save_clean(certificate)


@recorded
def save_absence(*, absence: Absence, by: Person) -> Absence:
    """Days away. Raises Invalid when they overlap other days away of the same person."""
    return save_clean(absence)


@recorded
def remove_paper(*, paper: Licence | Certificate | Absence, by: Person) -> None:
    """Take a licence, a certificate or days away off the person; the history keeps them."""
    if not isinstance(paper, Absence):  # the office writes down who is away, owners too
        _may_change(by, paper.person)
    paper.delete()


def _may_change(by: Person, person: Person) -> None:
    if not access.may_change_person(by, person):
        raise Refused("owners_only", _("Only an owner can make or change an owner."))


def _locked_owners() -> list[Person]:
    """Owners are locked in one order, so that two of them cannot each remove the other."""
    owners = Person.objects.filter(role=Role.OWNER, is_active=True).order_by("pk")
    return list(owners.select_for_update())


def _another_owner(owners: list[Person], person: Person) -> None:
    if not any(owner != person for owner in owners):
        raise Refused(
            "last_owner",
            _("This is the only owner. Make someone else an owner first."),
        )
