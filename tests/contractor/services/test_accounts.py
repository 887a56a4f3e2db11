"""Does the firm begin once, and does each person keep their own way in?"""

from __future__ import annotations

import datetime as dt
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection

from contractor.errors import Invalid, Refused
from contractor.models import Device, Firm, Person, Role
from contractor.services import accounts
from tests.factories.contractor import TechnicianFactory

NOW = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


def begin(**changes: str) -> Person:
    values = {
        "firm_name": "Tallow Creek Electric",
        "time_zone": "America/New_York",
        "name": "Marlow Venn",
        "email": "Marlow@tallowcreek.example",
        "password": "copper-before-noon",
    }
    return accounts.begin_firm(**{**values, **changes}, now=NOW)


@pytest.mark.django_db
def test_the_first_to_come_is_the_owner_and_the_second_is_refused() -> None:
    owner = begin()
    assert (owner.role, owner.email) == (Role.OWNER, "marlow@tallowcreek.example")
    assert Firm.objects.get().name == "Tallow Creek Electric"
    with pytest.raises(Refused, match="set up already"):
        begin(email="other@tallowcreek.example")


@pytest.mark.django_db(transaction=True)
def test_of_eight_at_once_one_begins() -> None:
    def one(number: int) -> str:
        try:
            begin(email=f"owner{number}@tallowcreek.example")
        except Refused as refused:
            return refused.code
        finally:
            connection.close()
        return "owner"

    with ThreadPoolExecutor(8) as pool:
        outcomes = list(pool.map(one, range(8)))
    assert sorted(outcomes) == ["begun"] * 7 + ["owner"]
    assert Person.objects.count() == 1


@pytest.mark.django_db
def test_in_production_only_the_set_up_code_begins(settings) -> None:
    settings.PRODUCTION = True
    for given, asked in (("", ""), ("guess", ""), ("guess", "the-code"), ("", "the-code")):
        settings.SETUP_CODE = asked
        with pytest.raises(Invalid) as refused:
            begin(setup_code=given)
        assert "setup_code" in refused.value.fields
    assert begin(setup_code="the-code").is_owner


@pytest.mark.django_db
@pytest.mark.parametrize("password", ["short", "password1234", "marlow@tallowcreek.example"])
def test_a_weak_password_is_refused_and_nothing_begun(password: str) -> None:
    with pytest.raises(Invalid) as refused:
        begin(password=password)
    assert "password" in refused.value.fields
    assert not Firm.objects.exists()


@pytest.mark.django_db
@pytest.mark.parametrize("password", ["a b c d e f g h i j", "ñandú-Σύρμα-銅線-cobre", "x1" * 64])
def test_long_and_foreign_passwords_are_welcome(password: str) -> None:
    assert begin(password=password).check_password(password)


@pytest.mark.django_db
def test_a_person_changes_name_and_phone_and_nothing_else() -> None:
    person = TechnicianFactory()
    asked = {"name": "New", "phone": "614-555-0131", "role": Role.OWNER, "email": "x@mail.example"}
    accounts.change_own_details(by=person, values=asked)
    person.refresh_from_db()
    assert (person.name, person.phone) == ("New", "+16145550131")
    assert person.role == Role.TECHNICIAN
    assert person.email != "x@mail.example"


@pytest.mark.django_db
def test_a_device_is_revoked_by_its_own_person_only() -> None:
    mine, other = TechnicianFactory(), TechnicianFactory()
    device, token = accounts.add_device(person=mine, name=" van 2 ")
    assert device.name == "van 2"
    assert token not in str(Device.objects.values().get())
    with pytest.raises(Refused):
        accounts.revoke_device(person=other, token_key=device.token_key)
    accounts.revoke_device(person=mine, token_key=device.token_key)
    assert not Device.objects.exists()
