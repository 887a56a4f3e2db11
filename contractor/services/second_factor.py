"""A code from the phone besides the password: set up, check, take off (RFC 6238)."""

from __future__ import annotations

import secrets

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from django_otp.models import Device as CodeSource
from django_otp.plugins.otp_static.models import StaticDevice, StaticToken
from django_otp.plugins.otp_totp.models import TOTPDevice

from contractor.errors import Invalid, Refused
from contractor.guesses import TooMany
from contractor.history import recorded
from contractor.models import Person
from contractor.services.people import shut_out

RECOVERY_CODES = 10
LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"  # none that are mistaken for one another


def is_on(person: Person) -> bool:
    return bool(TOTPDevice.objects.filter(user=person, confirmed=True).exists())


@transaction.atomic
def start(*, person: Person) -> TOTPDevice:
    """The secret to be shown as a picture; it counts once a code made from it comes back."""
    Person.objects.select_for_update().get(pk=person.pk)
    if is_on(person):
        raise Refused("second_factor_on", _("The code is on already."))
    waiting, _made = TOTPDevice.objects.get_or_create(
        user=person, confirmed=False, defaults={"name": person.email}
    )
    return waiting


@transaction.atomic
def confirm(*, person: Person, code: str) -> list[str]:
    """Turn it on, end sessions that came in without it, and give the recovery codes."""
    waiting = TOTPDevice.objects.select_for_update().filter(user=person, confirmed=False).first()
    if waiting is None:
        raise Refused("second_factor_unasked", _("Start again and scan the new picture."))
    waiting.throttle_reset(commit=False)  # nothing is guarded by it yet
    if not waiting.verify_token(_digits(code)):
        raise Invalid(
            "code_wrong",
            _("This code does not fit. Check the clock of your phone and type the next one."),
            fields={"code": _("This code does not fit.")},
        )
    waiting.confirmed = True
    waiting.save()
    shut_out(person=person, devices=False)
    return renew_recovery_codes(person=person)


@transaction.atomic
def renew_recovery_codes(*, person: Person) -> list[str]:
    """Ten codes, each good once; the ones before are good no more."""
    StaticDevice.objects.filter(user=person).delete()
    drawer = StaticDevice.objects.create(user=person, name="recovery")
    codes = [
        "".join(secrets.choice(LETTERS) for _each in range(10)) for _code in range(RECOVERY_CODES)
    ]
    StaticToken.objects.bulk_create(StaticToken(device=drawer, token=code) for code in codes)
    return [f"{code[:5]}-{code[5:]}" for code in codes]


@transaction.atomic
def turn_off(*, person: Person) -> None:
    """Forget the secret and the recovery codes."""
    TOTPDevice.objects.filter(user=person).delete()
    StaticDevice.objects.filter(user=person).delete()


@recorded
def let_in_without(*, person: Person, by: Person) -> None:
    """For who lost the phone and the recovery codes: an owner takes the code off. Whoever may
    have the phone is signed out."""
    if not by.is_owner:
        raise Refused("owners_only", _("Only an owner can let someone in without a code."))
    turn_off(person=person)
    shut_out(person=person)


def recovery_codes_left(person: Person) -> int:
    return int(StaticToken.objects.filter(device__user=person).count())


def check(*, person: Person, code: str) -> CodeSource:
    """The source that made the code: the phone, or a recovery code, which is then used up.

    Raises Invalid for a wrong code and TooMany while it is too early for another try: each wrong
    one doubles the wait, kept in the database. A wrong code's count must survive, so the refusal
    is raised outside the transaction.
    """
    accepted, wait = _try(person, code)
    if accepted is not None:
        return accepted
    if wait:
        raise TooMany(wait)
    raise Invalid(
        "code_wrong",
        _("This code does not fit. Wait for the next one and type that."),
        fields={"code": _("This code does not fit.")},
    )


@transaction.atomic
def _try(person: Person, code: str) -> tuple[CodeSource | None, float]:
    typed = code.strip().lower().replace(" ", "").replace("-", "")
    sources = TOTPDevice if typed.isdecimal() else StaticDevice
    for source in sources.objects.select_for_update().filter(user=person, confirmed=True):
        allowed, why = source.verify_is_allowed()
        if not allowed:
            return None, (why["locked_until"] - timezone.now()).total_seconds()
        if source.verify_token(typed):
            return source, 0
    return None, 0


def _digits(code: str) -> str:
    return "".join(code.split())
