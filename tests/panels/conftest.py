"""The firm, an office, a technician with a visit at a site; a browser and a phone for each."""

from __future__ import annotations

import pytest
from django.test import Client
from rest_framework.test import APIClient

from contractor.models import Device, Person, Site
from panels.models import Panel
from tests.factories import jobs
from tests.factories.contractor import (
    CoordinatorFactory,
    CrewFactory,
    FirmFactory,
    TechnicianFactory,
)
from tests.factories.panels import a_panel


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
def office(db: None) -> Person:
    FirmFactory()
    return CoordinatorFactory(name="Cora Finch")


@pytest.fixture
def technician(office: Person) -> Person:
    return TechnicianFactory(name="Tess Holloway")


@pytest.fixture
def site(technician: Person) -> Site:
    """A site where the technician's crew has a visit."""
    booked = jobs.job()
    booked.visits.update(crew=CrewFactory(people=[technician]))
    return booked.site


@pytest.fixture
def panel(site: Site) -> Panel:
    return a_panel(site)


@pytest.fixture
def browser(technician: Person) -> Client:
    return browser_of(technician)


@pytest.fixture
def office_browser(office: Person) -> Client:
    return browser_of(office)


@pytest.fixture
def phone(technician: Person) -> APIClient:
    return phone_of(technician)


@pytest.fixture
def office_phone(office: Person) -> APIClient:
    return phone_of(office)
