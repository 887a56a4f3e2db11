"""Phones of the three roles, each with a token of its own."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from contractor.models import Device, Person


def phone_of(person: Person) -> APIClient:
    _device, token = Device.objects.create(user=person, name="phone")
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=f"Token {token}")
    return client


@pytest.fixture
def owners_phone(owner: Person) -> APIClient:
    return phone_of(owner)


@pytest.fixture
def coordinators_phone(coordinator: Person) -> APIClient:
    return phone_of(coordinator)


@pytest.fixture
def technicians_phone(technician: Person) -> APIClient:
    return phone_of(technician)
