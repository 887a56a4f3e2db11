"""Is a wrong password counted, however many come at once and whatever they claim?"""

from __future__ import annotations

import re
import statistics
import time
from concurrent.futures import ThreadPoolExecutor

import pytest
from axes.models import AccessAttempt
from django.contrib.auth.hashers import Argon2PasswordHasher
from django.db import connection
from django.test import Client

from contractor.models import Person
from tests.factories.contractor import PASSWORD, FirmFactory, OwnerFactory

EMAIL = "marlow@tallowcreek.example"


def sign_in(client: Client, password: str, email: str = EMAIL, **extra: str):
    return client.post("/sign-in/", {"username": email, "password": password}, **extra)


@pytest.mark.django_db
def test_the_fifth_wrong_password_closes_the_door_for_a_quarter_of_an_hour(
    owner: Person, client: Client
) -> None:
    statuses = [sign_in(client, "wrong").status_code for _each in range(5)]
    assert statuses == [422, 422, 422, 422, 429]
    locked = sign_in(client, PASSWORD)
    assert locked.status_code == 429
    assert "Try again in 15 minutes" in locked.content.decode()
    AccessAttempt.objects.update(attempt_time="2020-01-01T00:00:00Z")
    assert sign_in(client, PASSWORD).status_code == 302


@pytest.mark.django_db
def test_a_stranger_elsewhere_does_not_lock_the_owner_out(owner: Person, client: Client) -> None:
    for _each in range(6):
        sign_in(client, "wrong", REMOTE_ADDR="203.0.113.9")
    assert sign_in(client, PASSWORD, REMOTE_ADDR="198.51.100.7").status_code == 302


@pytest.mark.django_db
def test_one_address_cannot_try_name_after_name(owner: Person, client: Client) -> None:
    statuses = {
        sign_in(client, "wrong", f"n{number}@mail.example").status_code for number in range(60)
    }
    assert statuses == {422}
    assert sign_in(client, PASSWORD).status_code == 429
    assert sign_in(client, PASSWORD, REMOTE_ADDR="198.51.100.7").status_code == 302


@pytest.mark.django_db
def test_a_forged_header_is_no_new_address(owner: Person, client: Client) -> None:
    for number in range(5):
        sign_in(client, "wrong", headers={"X-Forwarded-For": f"203.0.113.{number}"})
    locked = sign_in(client, PASSWORD, headers={"X-Forwarded-For": "198.51.100.7"})
    assert locked.status_code == 429


@pytest.mark.django_db(transaction=True)
def test_two_hundred_at_once_are_counted_like_two_hundred_in_turn(monkeypatch) -> None:
    FirmFactory()
    OwnerFactory(email=EMAIL)
    checked: list[str] = []
    real = Person.check_password

    def noted(person: Person, password: str) -> bool:
        checked.append(password)
        return real(person, password)

    monkeypatch.setattr(Person, "check_password", noted)

    def one(_number: int) -> int:
        try:
            return sign_in(Client(), "wrong").status_code
        finally:
            connection.close()

    with ThreadPoolExecutor(16) as pool:
        statuses = list(pool.map(one, range(200)))
    assert statuses.count(429) >= 195
    assert len(checked) <= 5


@pytest.mark.django_db
def test_a_stranger_and_a_wrong_password_take_the_same_time(
    owner: Person, client: Client, settings
) -> None:
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher"]
    owner.set_password(PASSWORD)
    owner.save()
    assert owner.password.startswith(Argon2PasswordHasher.algorithm)

    def seconds(email: str) -> float:
        began = time.perf_counter()
        answer = sign_in(client, "wrong", email)
        assert answer.status_code == 422
        AccessAttempt.objects.all().delete()
        return time.perf_counter() - began

    known, stranger = [], []
    for _each in range(12):
        known.append(seconds(EMAIL))
        stranger.append(seconds("nobody@mail.example"))
    assert statistics.median(stranger) == pytest.approx(statistics.median(known), rel=0.25)


@pytest.mark.django_db
def test_what_is_told_does_not_say_whether_the_address_is_known(
    owner: Person, client: Client
) -> None:
    def words(email: str) -> str:
        page = sign_in(client, "wrong", email).content.decode()
        return page.replace(email, "").split("<main", 1)[1]

    without_tokens = [
        re.sub(r'name="csrfmiddlewaretoken" value="[^"]+"', "", words(email))
        for email in (EMAIL, "nobody@mail.example")
    ]
    assert without_tokens[0] == without_tokens[1]
