"""Begin the firm, and let each person keep their own way in: password, devices, name."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

import pghistory
from django.conf import settings
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import connection, transaction
from django.utils.crypto import constant_time_compare
from django.utils.translation import gettext as _

from contractor.errors import Invalid, Refused
from contractor.history import recorded
from contractor.models import Device, Firm, Person, Role
from contractor.services.people import shut_out
from contractor.services.saving import save_clean

FIRST_OWNER_LOCK = 0x7A110  # any number, as long as nothing else takes it


@transaction.atomic
def begin_firm(
    *,
    firm_name: str,
    time_zone: str,
    name: str,
    email: str,
    password: str,
    setup_code: str = "",
    now: dt.datetime,
) -> Person:
    """Set up the firm and its first owner. Only while nobody is here; of two at once, one wins."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_advisory_xact_lock(%s)", [FIRST_OWNER_LOCK])
    if Person.objects.exists():
        raise Refused("begun", _("This firm is set up already. Sign in instead."))
    check_setup_code(setup_code)
    owner = Person(name=name, email=email.lower(), role=Role.OWNER)
    with pghistory.context(user=str(owner.pk)):
        firm = Firm.objects.first() or Firm(pk=1)
        save_clean(firm, {"name": firm_name, "time_zone": time_zone})
        return set_password(person=owner, password=password)


def check_setup_code(code: str) -> None:
    """In production only who holds SETUP_CODE may begin, or the first stranger would."""
    if not settings.PRODUCTION and not settings.SETUP_CODE:
        return
    if not settings.SETUP_CODE or not constant_time_compare(code, settings.SETUP_CODE):
        raise Invalid(
            "setup_code",
            _("This is not the set-up code. It is the SETUP_CODE the server was started with."),
            fields={"setup_code": _("This is not the set-up code.")},
        )


@transaction.atomic
def set_password(*, person: Person, password: str) -> Person:
    """Set the password and end the person's other sessions. Raises Invalid for a weak one."""
    try:
        validate_password(password, person)
    except ValidationError as error:
        sentence = " ".join(error.messages)
        raise Invalid("password_weak", sentence, fields={"password": sentence}) from error
    person.set_password(password)
    return save_clean(person)


@recorded
def change_own_details(*, by: Person, values: Mapping[str, Any]) -> Person:
    """The name and phone number a person is known by here."""
    person = Person.objects.select_for_update().get(pk=by.pk)
    return save_clean(person, {key: values[key] for key in ("name", "phone") if key in values})


@transaction.atomic
def end_other_sessions(*, person: Person) -> None:
    """Sign the person out everywhere; the caller keeps its own session alive if it wants to."""
    shut_out(person=person, devices=False)


@transaction.atomic
def add_device(*, person: Person, name: str) -> tuple[Device, str]:
    """A named device and its token. The token is kept as a hash only: it is told this once."""
    name = name.strip()
    if not name:
        raise Invalid("device_nameless", _("Give the device a name you will know it by."))
    device, token = Device.objects.create(user=person, name=name[:60])
    return device, token


@transaction.atomic
def revoke_device(*, person: Person, token_key: str) -> None:
    """The device's next request is refused."""
    gone, _each = Device.objects.filter(user=person, token_key=token_key).delete()
    if not gone:
        raise Refused("no_such_device", _("This device is not signed in any more."))
