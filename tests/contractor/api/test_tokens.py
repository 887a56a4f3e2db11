"""Does a device get its token only from the right person, and lose it at once?"""

from __future__ import annotations

import datetime as dt
import io
import logging

import pytest
from django.core.management import call_command
from django.db import connection
from rest_framework.test import APIClient

from contractor.models import Device, Person
from contractor.services.people import change_person
from tests.factories.contractor import PASSWORD

pytestmark = pytest.mark.django_db
URL = "/api/v1/token"


def ask(**typed: str):
    wanted = {"email": "rhys@tallowcreek.example", "password": PASSWORD, "device": "van 2"}
    return APIClient().post(URL, {**wanted, **typed})


def test_the_right_password_gives_a_token_that_speaks_for_the_person(technician: Person) -> None:
    answer = ask()
    assert answer.status_code == 201
    phone = APIClient(headers={"Authorization": f"Token {answer.data['token']}"})
    me = phone.get("/api/v1/me").data
    assert (me["name"], me["role"], me["device"]) == ("Rhys Okafor", "technician", "van 2")
    assert Device.objects.get().last_used_at is not None


def test_the_address_is_read_without_case(technician: Person) -> None:
    assert ask(email="Rhys@TallowCreek.example").status_code == 201


@pytest.mark.parametrize("typed", [{"password": "wrong"}, {"email": "nobody@mail.example"}])
def test_a_stranger_and_a_wrong_password_are_told_the_same(
    technician: Person, typed: dict[str, str]
) -> None:
    answer = ask(**typed)
    assert answer.status_code == 401
    assert answer.data["code"] == "not_recognised"
    assert answer["Content-Type"] == "application/problem+json"


def test_someone_who_left_gets_no_token(technician: Person) -> None:
    Person.objects.update(is_active=False)
    assert ask().status_code == 401


def test_the_sixth_wrong_password_is_locked_out_and_the_right_one_too(technician: Person) -> None:
    answers = [ask(password="wrong").status_code for _each in range(5)]
    assert answers == [401, 401, 401, 401, 429]
    locked = ask()
    assert locked.status_code == 429
    assert locked.json()["code"] == "locked_out"
    assert 0 < int(locked["Retry-After"]) <= 900


def test_only_a_hash_of_the_token_is_kept_anywhere(technician: Person, caplog) -> None:
    with caplog.at_level(logging.DEBUG):
        token = ask().data["token"]
        APIClient(headers={"Authorization": f"Token {token}"}).get("/api/v1/me")
    assert len(token) >= 64  # 32 random bytes in hexadecimal: 256 bits
    dump = io.StringIO()
    call_command("dumpdata", stdout=dump)
    with connection.cursor() as cursor:
        cursor.execute("SELECT array_agg(metadata::text) FROM pghistory_context")
        contexts = str(cursor.fetchone())
    for kept in (dump.getvalue(), contexts, caplog.text):
        assert token not in kept


def test_a_device_signed_out_is_refused_by_its_next_request(technician: Person) -> None:
    phone = APIClient(headers={"Authorization": f"Token {ask().data['token']}"})
    other = APIClient(headers={"Authorization": f"Token {ask(device='other').data['token']}"})
    assert phone.delete("/api/v1/me/device").status_code == 204
    assert phone.get("/api/v1/me").status_code == 401
    assert other.get("/api/v1/me").status_code == 200


def test_who_leaves_is_out_on_every_device_and_stays_out_when_back(
    owner: Person, technician: Person
) -> None:
    now = dt.datetime(2026, 11, 25, tzinfo=dt.UTC)
    phone = APIClient(headers={"Authorization": f"Token {ask().data['token']}"})
    change_person(person=technician, values={"is_active": False}, by=owner, now=now)
    assert phone.get("/api/v1/me").status_code == 401
    change_person(person=technician, values={"is_active": True}, by=owner, now=now)
    assert phone.get("/api/v1/me").status_code == 401


def test_a_device_token_opens_no_page_and_a_session_opens_no_call(
    technician: Person, as_technician
) -> None:
    phone = APIClient(headers={"Authorization": f"Token {ask().data['token']}"})
    assert phone.get("/account/").status_code == 302
    assert as_technician.get("/api/v1/me").status_code == 401


def test_asking_too_often_is_slowed_down(technician: Person) -> None:
    answers = [ask(email=f"nobody{number}@mail.example").status_code for number in range(11)]
    assert answers[-1] == 429
