"""A shop's facts and a proposed addition over the API."""

from __future__ import annotations

from typing import Any

import pytest
from rest_framework.test import APIClient

from contractor.models import Site
from panels.models import Calculation, Shop
from tests.panels.test_load_pages import adopted

pytestmark = pytest.mark.django_db
STORE = {"occupancy": "store", "floor_area_ft2": 3000, "receptacles": 80, "show_window_ft": 30,
         "system": "1ph-240", "service_a": 150}  # fmt: skip
HOME = {"floor_area_ft2": 1500, "small_appliance_circuits": 2, "laundry_circuits": 1,
        "service_a": 100}  # fmt: skip
CHARGER = {"kind": "vehicle", "nameplate": "48 A", "volts": 240}


def line(result: dict[str, Any], key: str) -> Any:
    lines = (line for section in result["sections"] for line in section["lines"])
    return next(line for line in lines if line["key"] == key)


def test_a_shop_is_recorded_read_and_corrected(phone: APIClient, site: Site) -> None:
    url = f"/api/v1/sites/{site.pk}/shop"
    assert phone.get(url).status_code == 404
    made = phone.put(url, STORE, format="json")
    assert made.status_code == 201, made.data
    again = phone.put(url, {**STORE, "receptacles": 60}, format="json", HTTP_IF_MATCH=made["ETag"])
    assert again.status_code == 200, again.data
    assert phone.get(url).data["receptacles"] == 60
    stale = phone.put(url, STORE, format="json", HTTP_IF_MATCH=made["ETag"])
    assert stale.status_code == 412


def test_a_site_is_not_a_home_and_a_shop(phone: APIClient, site: Site) -> None:
    assert phone.put(f"/api/v1/sites/{site.pk}/home", HOME, format="json").status_code == 201
    url = f"/api/v1/sites/{site.pk}/shop"
    refused = phone.put(url, STORE, format="json")
    assert refused.status_code == 409
    assert refused.data["code"] == "other_premises"
    assert phone.put(url, {**STORE, "instead": True}, format="json").status_code == 201
    assert phone.get(f"/api/v1/sites/{site.pk}/home").status_code == 404


def test_a_shop_is_calculated_and_kept(phone: APIClient, site: Site) -> None:
    adopted(site)
    phone.put(f"/api/v1/sites/{site.pk}/shop", STORE, format="json")
    made = phone.post(f"/api/v1/sites/{site.pk}/calculations", {"method": "shop"}, format="json")
    assert made.status_code == 201, made.data
    assert made.data["total_va"] == 28_400
    assert Shop.objects.count() == Calculation.objects.count() == 1


def test_a_complete_shop_is_worked_through_without_a_site(phone: APIClient) -> None:
    inputs = {"occupancy": "office", "floor_area": "2000 ft2", "receptacles": 40}
    asked = {"method": "shop", "edition": "2017", "inputs": inputs}
    answer = phone.post("/api/v1/calculations/preview", asked, format="json")
    assert answer.status_code == 200, answer.data
    # 7000 of lighting, 1200 of a sign, 7200 of receptacles.
    assert line(answer.data, "load")["value"] == {"value": 15_400.0, "unit": "VA"}


def test_it_is_asked_whether_an_addition_fits(phone: APIClient, site: Site) -> None:
    adopted(site, edition="2023")
    phone.put(f"/api/v1/sites/{site.pk}/home", HOME, format="json")
    url = f"/api/v1/sites/{site.pk}/fit"
    answer = phone.post(url, {"addition": CHARGER}, format="json")
    assert answer.status_code == 200, answer.data
    # 5100 + 11 520 by the standard method.
    assert line(answer.data, "standard_load")["value"]["value"] == 16_620
    assert line(answer.data, "verdict")["value"] == "fits"
    tight = phone.post(url, {"addition": CHARGER, "rating": "60 A"}, format="json")
    assert line(tight.data, "standard_set_point")["value"] == {"value": 38.0, "unit": "A"}
    assert not Calculation.objects.exists()


def test_a_fault_of_the_addition_names_its_field(phone: APIClient, site: Site) -> None:
    adopted(site)
    url = f"/api/v1/sites/{site.pk}/fit"
    assert phone.post(url, {"addition": CHARGER}, format="json").status_code == 409
    phone.put(f"/api/v1/sites/{site.pk}/home", HOME, format="json")
    bad = phone.post(url, {"addition": {**CHARGER, "nameplate": "48 ft"}}, format="json")
    assert bad.status_code == 422
    assert "addition.nameplate" in str(bad.data)
