"""The firm, its three roles, and a browser for each."""

from __future__ import annotations

import pytest
from django.test import Client

from contractor.models import Firm, Person, Site
from tests.factories import jobs
from tests.factories.contractor import (
    CoordinatorFactory,
    CrewFactory,
    FirmFactory,
    OwnerFactory,
    TechnicianFactory,
)


@pytest.fixture
def firm(db: None) -> Firm:
    return FirmFactory()


@pytest.fixture
def owner(firm: Firm) -> Person:
    return OwnerFactory(name="Marlow Venn", email="marlow@tallowcreek.example")


@pytest.fixture
def coordinator(firm: Firm) -> Person:
    return CoordinatorFactory(name="Dana Whitlock", email="dana@tallowcreek.example")


@pytest.fixture
def technician(firm: Firm) -> Person:
    return TechnicianFactory(name="Rhys Okafor", email="rhys@tallowcreek.example")


def browser_of(person: Person) -> Client:
    client = Client()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client


@pytest.fixture
def as_owner(owner: Person) -> Client:
    return browser_of(owner)


@pytest.fixture
def as_coordinator(coordinator: Person) -> Client:
    return browser_of(coordinator)


@pytest.fixture
def as_technician(technician: Person) -> Client:
    return browser_of(technician)


@pytest.fixture
def crews_site(technician: Person) -> Site:
    """A site where the technician's crew has a visit, and so the technician may see it."""
    booked = jobs.job()
    booked.visits.update(crew=CrewFactory(people=[technician]))
    return booked.site
