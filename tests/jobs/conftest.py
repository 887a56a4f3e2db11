"""The firm, the office, a technician with a crew; a browser and a phone for each."""

from __future__ import annotations

import pytest
from django.test import Client
from rest_framework.test import APIClient

from contractor.models import Crew, Device, Person
from tests.factories import jobs as make


@pytest.fixture
def office(db: None) -> Person:
    make.firm()
    return make.coordinator(name="Nell Coyle")


@pytest.fixture
def technician(office: Person) -> Person:
    return make.person("Ivo Brandt")


@pytest.fixture
def crew(technician: Person) -> Crew:
    return make.crew(technician, make.person("Lee Okafor"), name="North crew")


def browser_of(person: Person) -> Client:
    client = Client()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client


def phone_of(person: Person) -> APIClient:
    _device, token = Device.objects.create(user=person, name="phone")
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=f"Token {token}")
    return client


@pytest.fixture
def at_desk(office: Person) -> Client:
    return browser_of(office)


@pytest.fixture
def in_van(technician: Person) -> Client:
    return browser_of(technician)


@pytest.fixture
def desk_api(office: Person) -> APIClient:
    return phone_of(office)


@pytest.fixture
def van_api(technician: Person) -> APIClient:
    return phone_of(technician)
