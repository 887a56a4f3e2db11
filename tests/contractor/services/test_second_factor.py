"""Does a stolen password alone open nothing, and a lost phone not lock anyone out for good?"""

from __future__ import annotations

import datetime as dt
import time

import pytest
import time_machine
from django_otp.oath import totp
from django_otp.plugins.otp_static.models import StaticToken
from django_otp.plugins.otp_totp.models import TOTPDevice

from contractor.errors import Invalid, Refused
from contractor.guesses import TooMany
from contractor.models import Device, Person
from contractor.services import second_factor
from tests.factories.contractor import CoordinatorFactory, OwnerFactory, TechnicianFactory

pytestmark = pytest.mark.django_db
HOUR = dt.timedelta(hours=1)


def in_an_hour() -> dt.datetime:
    """After the code the set-up was confirmed with: that one is good no more."""
    return dt.datetime.now(dt.UTC) + HOUR


def code_of(source: TOTPDevice, steps: int = 0) -> str:
    """The six digits the phone would show (RFC 6238), some half minutes on."""
    return f"{totp(source.bin_key, t0=-30 * steps):06d}"


@pytest.fixture
def person() -> Person:
    return TechnicianFactory()


@pytest.fixture
def recovery_codes(person: Person) -> list[str]:
    waiting = second_factor.start(person=person)
    return second_factor.confirm(person=person, code=code_of(waiting))


def test_the_digits_are_those_of_the_published_example() -> None:
    # RFC 6238, appendix B: SHA-1, the secret "12345678901234567890", at 59 s and 1111111109 s,
    # eight digits 94287082 and 07081804; a phone shows the last six.
    secret = b"12345678901234567890"
    for moment, eight_digits in ((59, 94287082), (1111111109, 7081804)):
        with time_machine.travel(moment, tick=False):
            assert totp(secret, digits=8) == eight_digits
            assert totp(secret) == eight_digits % 10**6


def test_it_counts_only_once_a_code_came_back(person: Person) -> None:
    waiting = second_factor.start(person=person)
    assert second_factor.start(person=person) == waiting, "the picture stays while it is scanned"
    with pytest.raises(Invalid):
        second_factor.confirm(person=person, code="000000")
    assert not second_factor.is_on(person)
    codes = second_factor.confirm(person=person, code=code_of(waiting))
    assert second_factor.is_on(person)
    assert len(set(codes)) == 10
    with pytest.raises(Refused):
        second_factor.start(person=person)


def test_a_code_is_good_once(person: Person, recovery_codes: list[str]) -> None:
    with time_machine.travel(in_an_hour(), tick=False):
        source = TOTPDevice.objects.get()
        later = code_of(source)
        assert second_factor.check(person=person, code=f"{later[:3]} {later[3:]}") == source
        with pytest.raises(Invalid):
            second_factor.check(person=person, code=later)


def test_each_wrong_code_doubles_the_wait_and_the_count_survives(
    person: Person, recovery_codes: list[str]
) -> None:
    with time_machine.travel(in_an_hour(), tick=False) as clock:
        waits = []
        for _each in range(5):
            with pytest.raises(Invalid):
                second_factor.check(person=person, code="000000")
            with pytest.raises(TooMany) as refused:
                second_factor.check(person=person, code="000000")
            waits.append(refused.value.wait_seconds)
            clock.shift(refused.value.wait_seconds + 0.1)
        assert waits == [1, 2, 4, 8, 16]


def test_a_recovery_code_stands_in_for_the_phone_once(
    person: Person, recovery_codes: list[str]
) -> None:
    first = recovery_codes[0]
    assert second_factor.check(person=person, code=first.upper())
    assert second_factor.recovery_codes_left(person) == 9
    with pytest.raises(Invalid):
        second_factor.check(person=person, code=first)


def test_new_recovery_codes_end_the_old_ones(person: Person, recovery_codes: list[str]) -> None:
    renewed = second_factor.renew_recovery_codes(person=person)
    with pytest.raises(Invalid):
        second_factor.check(person=person, code=recovery_codes[0])
    with time_machine.travel(time.time() + 5):
        assert second_factor.check(person=person, code=renewed[0])


def test_a_code_of_someone_else_is_wrong(person: Person, recovery_codes: list[str]) -> None:
    other = TechnicianFactory()
    second_factor.confirm(person=other, code=code_of(second_factor.start(person=other)))
    with pytest.raises(Invalid):
        second_factor.check(person=other, code=recovery_codes[0])


def test_only_an_owner_lets_in_who_lost_the_phone(
    person: Person, recovery_codes: list[str]
) -> None:
    Device.objects.create(user=person, name="lost phone")
    with pytest.raises(Refused):
        second_factor.let_in_without(person=person, by=CoordinatorFactory())
    second_factor.let_in_without(person=person, by=OwnerFactory())
    assert not second_factor.is_on(person)
    assert not StaticToken.objects.exists()
    assert not Device.objects.exists(), "whoever found the phone is out"
