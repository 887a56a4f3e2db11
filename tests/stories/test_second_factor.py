"""Setting up the code, signing in with it, losing the phone, over HTTP."""

from __future__ import annotations

import pytest
import time_machine
from django.test import Client
from django_otp.oath import totp
from django_otp.plugins.otp_totp.models import TOTPDevice

from contractor.models import Person
from tests.factories.contractor import PASSWORD, FirmFactory, OwnerFactory, TechnicianFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def rhys() -> Person:
    FirmFactory()
    return TechnicianFactory(email="rhys@tallowcreek.example")


def sign_in(client: Client, next_page: str = ""):
    typed = {"username": "rhys@tallowcreek.example", "password": PASSWORD, "next": next_page}
    return client.post("/sign-in/", typed)


def digits() -> str:
    return f"{totp(TOTPDevice.objects.get().bin_key):06d}"


def signed_in(client: Client) -> bool:
    return client.get("/account/").status_code == 200


def set_up(client: Client) -> list[str]:
    page = client.get("/account/code/").content.decode()
    assert "<svg" in page
    assert "style=" not in page
    shown = client.post("/account/code/", {"code": digits()})
    return shown.context["codes"]


def test_from_setting_it_up_to_the_lost_phone(rhys: Person) -> None:
    with time_machine.travel("2026-11-25T12:00:00Z", tick=False) as clock:
        here, elsewhere = Client(), Client()
        for client in (here, elsewhere):
            assert sign_in(client).status_code == 302
        codes = set_up(here)
        assert signed_in(here)
        assert not signed_in(elsewhere), "who came in without a code is out"

        clock.shift(60)
        asked = sign_in(elsewhere, "/account/password/")
        assert asked["Location"] == "/sign-in/code/"
        assert not signed_in(elsewhere)
        wrong = elsewhere.post("/sign-in/code/", {"code": "000000"})
        assert wrong.status_code == 422
        too_soon = elsewhere.post("/sign-in/code/", {"code": digits()})
        assert "Try again in 1 second" in too_soon.content.decode()
        clock.shift(30)
        came = elsewhere.post("/sign-in/code/", {"code": digits()})
        assert came["Location"] == "/account/password/"
        assert signed_in(elsewhere)

        lost = Client()
        sign_in(lost)
        lost.post("/sign-in/code/", {"code": codes[0]})
        assert signed_in(lost)
        again = Client()
        sign_in(again)
        assert again.post("/sign-in/code/", {"code": codes[0]}).status_code == 422


def test_the_second_step_needs_the_first_and_does_not_wait_for_ever(rhys: Person) -> None:
    with time_machine.travel("2026-11-25T12:00:00Z", tick=False) as clock:
        client = Client()
        sign_in(client)
        set_up(client)
        assert Client().post("/sign-in/code/", {"code": digits()})["Location"] == "/sign-in/"
        late = Client()
        sign_in(late)
        clock.shift(601)
        assert late.post("/sign-in/code/", {"code": digits()})["Location"] == "/sign-in/"
        assert not signed_in(late)


def test_a_password_changed_meanwhile_ends_the_second_step(rhys: Person) -> None:
    with time_machine.travel("2026-11-25T12:00:00Z", tick=False) as clock:
        client = Client()
        sign_in(client)
        set_up(client)
        clock.shift(60)
        thief = Client()
        sign_in(thief)
        rhys.refresh_from_db()
        rhys.set_password("brass-after-noon")
        rhys.save()
        assert thief.post("/sign-in/code/", {"code": digits()})["Location"] == "/sign-in/"


def test_the_api_asks_for_the_code_as_well(rhys: Person) -> None:
    with time_machine.travel("2026-11-25T12:00:00Z", tick=False) as clock:
        client = Client()
        sign_in(client)
        set_up(client)
        clock.shift(60)
        asked = {"email": rhys.email, "password": PASSWORD, "device": "van 2"}
        sent = {"content_type": "application/json"}
        assert client.post("/api/v1/token", asked, **sent).json()["code"] == "code_needed"
        token = client.post("/api/v1/token", {**asked, "code": digits()}, **sent)
        assert token.status_code == 201


def test_turning_it_off_takes_the_password_and_an_owner_can_help(rhys: Person) -> None:
    with time_machine.travel("2026-11-25T12:00:00Z", tick=False):
        client, owner = Client(), Client()
        sign_in(client)
        set_up(client)
        assert client.post("/account/code/off/", {"password": "wrong"}).status_code == 422
        assert TOTPDevice.objects.exists()
        backend = "django.contrib.auth.backends.ModelBackend"
        owner.force_login(OwnerFactory(), backend=backend)
        assert owner.post(f"/people/{rhys.pk}/code/off/").status_code == 302
        assert not TOTPDevice.objects.exists()
        assert not signed_in(client)
        assert sign_in(client)["Location"] == "/"
