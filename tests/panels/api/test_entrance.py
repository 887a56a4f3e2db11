"""The service entrance over the API: recorded, read, corrected on its revision."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from contractor.models import Site

pytestmark = pytest.mark.django_db
SAID = {"occupancy": "one_family", "available_ka": 14.5, "stated_by": "Distribution desk"}


def test_the_first_put_records_it_and_later_ones_name_their_base(
    phone: APIClient, site: Site
) -> None:
    url = f"/api/v1/sites/{site.pk}/service-entrance"
    assert phone.get(url).status_code == 404
    made = phone.put(url, SAID, format="json")
    assert (made.status_code, made.json()["available_ka"]) == (201, 14.5)
    assert phone.put(url, {"available_ka": 18}, format="json").status_code == 428
    etag = {"If-Match": made.headers["ETag"]}
    changed = phone.put(url, {"available_ka": 18}, format="json", headers=etag)
    assert (changed.status_code, changed.json()["stated_by"]) == (200, "Distribution desk")
    assert phone.put(url, {"available_ka": 19}, format="json", headers=etag).status_code == 412
    assert phone.get(url).json()["available_ka"] == 18


def test_a_refusal_names_the_field(phone: APIClient, site: Site) -> None:
    url = f"/api/v1/sites/{site.pk}/service-entrance"
    refused = phone.put(url, {"transformer_kva": 50}, format="json")
    assert refused.status_code == 422
    assert "transformer_z_percent" in refused.json()["fields"]


def test_anothers_site_is_not_there(phone: APIClient) -> None:
    from tests.factories.contractor import SiteFactory

    url = f"/api/v1/sites/{SiteFactory().pk}/service-entrance"
    assert phone.put(url, SAID, format="json").status_code == 404
