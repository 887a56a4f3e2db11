"""Callbacks and answers over the API: who sees them, and edits based on a revision."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from contractor.models import Device, Person
from followups.models import Callback
from tests.factories import followups as made
from tests.factories import jobs as planned

pytestmark = pytest.mark.django_db

CALLBACKS, REPLIES = "/api/v1/callbacks", "/api/v1/replies"


def phone_of(person: Person) -> APIClient:
    _device, token = Device.objects.create(user=person, name="phone")
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=f"Token {token}")
    return client


@pytest.fixture
def ana() -> Person:
    planned.firm()
    return planned.person("Ana")


@pytest.fixture
def callback(ana: Person) -> Callback:
    made.answered(made.sent_check_in(ana), "wrong", "It hums.")
    return Callback.objects.get()


def test_the_office_sees_all_a_technician_those_of_their_sites_a_stranger_none(
    ana: Person, callback: Callback
) -> None:
    made.answered(made.sent_check_in(), "wrong", "It buzzes.")
    office, own = phone_of(planned.coordinator()), phone_of(ana)
    assert len(office.get(CALLBACKS).data["results"]) == 2
    for address in (CALLBACKS, REPLIES):
        assert len(own.get(address).data["results"]) == 1
        assert phone_of(planned.person()).get(address).data["results"] == []
        assert APIClient().get(address).status_code == 401
    assert own.get(f"{CALLBACKS}/{callback.pk}").data["what"] == "It hums."
    assert phone_of(planned.person()).get(f"{CALLBACKS}/{callback.pk}").status_code == 404
    assert office.get(CALLBACKS, {"state": "closed"}).data["results"] == []
    assert office.get(REPLIES, {"answer": "well"}).data["results"] == []


def test_cause_and_note_are_the_offices_and_name_the_revision(
    ana: Person, callback: Callback
) -> None:
    address = f"{CALLBACKS}/{callback.pk}"
    office = phone_of(planned.coordinator())
    base = {"HTTP_IF_MATCH": office.get(address)["ETag"]}
    said = {"cause": "loose", "note": "Bring a torque driver."}
    assert phone_of(ana).patch(address, said, **base).status_code == 403
    assert office.patch(address, said).status_code == 428
    answer = office.patch(address, said, **base)
    assert (answer.status_code, answer.data["cause"]) == (200, "loose")
    assert answer["ETag"] != base["HTTP_IF_MATCH"]
    assert office.patch(address, {"note": "Later."}, **base).status_code == 412
    assert office.patch(address, {"cause": "gremlins"}, **base).status_code in (400, 422)
    callback.refresh_from_db()
    assert callback.note == "Bring a torque driver."


def test_fields_that_are_not_offered_are_not_written(callback: Callback) -> None:
    address = f"{CALLBACKS}/{callback.pk}"
    office = phone_of(planned.coordinator())
    office.patch(
        address, {"state": "closed", "what": "Nothing."}, HTTP_IF_MATCH=office.get(address)["ETag"]
    )
    callback.refresh_from_db()
    assert (callback.state, callback.what) == ("open", "It hums.")
