"""Meter readings over the API: sent once however often, read back, refused in words."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from panels.models import MeterData
from tests.factories.contractor import SiteFactory
from tests.panels import metering

pytestmark = pytest.mark.django_db
YEAR = metering.green_button(metering.quarters(31)).read()


def send(phone, site, data=YEAR, **said):
    file = SimpleUploadedFile("january.xml", data, content_type="text/xml")
    return phone.post(f"/api/v1/sites/{site.pk}/meter", {"file": file, **said}, format="multipart")


def test_a_file_is_taken_in_once_and_read_back(phone, site):
    first, again = send(phone, site), send(phone, site)
    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json() == again.json()
    said = first.json()
    assert (said["days"], said["interval_s"], said["power_unit"]) == (31, 900, "W")
    assert {one["code"]: one["severity"] for one in said["findings"]} == {
        "short": "caution",
        "old": "caution",
    }
    listed = phone.get(f"/api/v1/sites/{site.pk}/meter").json()["results"]
    assert listed == [phone.get(f"/api/v1/meter/{said['id']}").json()]
    year = phone.get(f"/api/v1/sites/{site.pk}/meter/year").json()
    assert (len(year["powers"]), year["filled"]) == (35_040, 334 * 96)
    assert phone.delete(f"/api/v1/meter/{said['id']}").status_code == 204
    assert not MeterData.objects.exists()
    assert phone.get(f"/api/v1/sites/{site.pk}/meter/year").json()["powers"] is None


def test_what_cannot_be_read_is_a_problem_at_its_field(phone, site):
    for data, field in ((b"PK\x03\x04", "file"), (b"start,usage\n2025-01-01,1\n", "unit")):
        answer = send(phone, site, data)
        assert answer.status_code == 422
        assert field in answer.json()["fields"]
    assert send(phone, site, unit="furlongs").status_code in (400, 422)
    assert not MeterData.objects.exists()


def test_another_site_is_not_there(phone):
    assert send(phone, SiteFactory()).status_code == 404


def test_the_metered_method_is_asked_without_a_site(phone):
    inputs = {
        "demand": "12.3 kW",
        "power_factor": 0.95,
        "days": 365,
        "interval": "15 min",
        "renewable": False,
        "service": {"system": "1ph-240", "rating": "200 A"},
        "new_loads": [{"kind": "vehicle", "nameplate": "11.5 kVA"}],
    }
    asked = {"method": "metered", "edition": "2017", "inputs": inputs}
    said = phone.post("/api/v1/calculations/preview", asked).json()
    lines = {line["key"]: line["shown"] for each in said["sections"] for line in each["lines"]}
    assert (lines["existing"], lines["left"]) == ("16,184.21 VA", "84.6 A")
    refused = phone.post("/api/v1/calculations/preview", asked | {"inputs": {"demand": "12 kWh"}})
    assert refused.status_code == 422
