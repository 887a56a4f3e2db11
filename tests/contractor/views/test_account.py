"""Does a person keep password, browsers and devices in their own hands?"""

from __future__ import annotations

import re

import pytest
from django.test import Client
from rest_framework.test import APIClient

from contractor.models import Device, PasswordLetter, Person
from tests.contractor.conftest import browser_of
from tests.factories.contractor import PASSWORD, TechnicianFactory

pytestmark = pytest.mark.django_db


def here(client: Client) -> bool:
    return client.get("/account/").status_code == 200


def test_a_new_password_takes_the_old_one_and_ends_other_browsers(
    technician: Person, as_technician: Client
) -> None:
    elsewhere = browser_of(technician)
    typed = {"password": "wrong", "new_password": "brass-after-noon"}
    assert as_technician.post("/account/password/", typed).status_code == 422
    typed["password"] = PASSWORD
    assert as_technician.post("/account/password/", typed).status_code == 302
    assert here(as_technician)
    assert not here(elsewhere)
    technician.refresh_from_db()
    assert technician.check_password("brass-after-noon")


def test_other_browsers_are_signed_out_and_this_one_stays(
    technician: Person, as_technician: Client
) -> None:
    elsewhere = browser_of(technician)
    assert as_technician.post("/account/elsewhere/").status_code == 302
    assert here(as_technician)
    assert not here(elsewhere)


def test_a_devices_token_is_shown_once_and_can_be_taken_back(
    technician: Person, as_technician: Client
) -> None:
    shown = as_technician.post("/account/devices/add/", {"name": "van 2"})
    assert "no-store" in shown["Cache-Control"]
    token = re.search(r'value="([0-9a-f]{64,})"', shown.content.decode())[1]
    phone = APIClient(headers={"Authorization": f"Token {token}"})
    assert phone.get("/api/v1/me").status_code == 200
    listed = as_technician.get("/account/").content.decode()
    assert "van 2" in listed
    assert token not in listed
    as_technician.post(f"/account/devices/{Device.objects.get().token_key}/")
    assert phone.get("/api/v1/me").status_code == 401


def test_a_device_of_someone_else_stays(technician: Person, as_technician: Client) -> None:
    theirs, _token = Device.objects.create(user=TechnicianFactory(), name="theirs")
    as_technician.post(f"/account/devices/{theirs.token_key}/")
    assert Device.objects.filter(pk=theirs.pk).exists()


def test_signing_out_takes_a_press_and_ends_it(as_technician: Client) -> None:
    assert as_technician.get("/sign-out/").status_code == 405
    assert as_technician.post("/sign-out/").status_code == 302
    assert not here(as_technician)


def test_forgotten_passwords_are_answered_alike_for_anybody(
    technician: Person, client: Client
) -> None:
    answers = [
        client.post("/password/forgotten/", {"email": email})
        for email in (technician.email, "nobody@mail.example")
    ]
    assert [(each.status_code, each["Location"]) for each in answers] == [
        (302, "/password/sent/")
    ] * 2
    assert PasswordLetter.objects.count() == 2


def test_forgotten_passwords_are_not_asked_for_without_end(firm, client: Client) -> None:
    asked = {"email": "nobody@mail.example"}
    statuses = [client.post("/password/forgotten/", asked).status_code for _each in range(11)]
    assert statuses == [302] * 10 + [422]
    assert PasswordLetter.objects.count() == 10


@pytest.mark.parametrize("onward", ["https://evil.example/", "//evil.example", "javascript:x"])
def test_signing_in_leads_nowhere_else(technician: Person, client: Client, onward: str) -> None:
    typed = {"username": technician.email, "password": PASSWORD, "next": onward}
    assert client.post("/sign-in/", typed)["Location"] == "/"


def test_signing_in_leads_on_to_where_one_was_going(technician: Person, client: Client) -> None:
    typed = {"username": technician.email, "password": PASSWORD, "next": "/sites/"}
    assert client.post("/sign-in/", typed)["Location"] == "/sites/"


def test_a_form_from_elsewhere_is_not_taken(technician: Person) -> None:
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(technician, backend="django.contrib.auth.backends.ModelBackend")
    assert strict.post("/account/elsewhere/").status_code == 403
