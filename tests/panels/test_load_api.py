"""Load calculations over the API: worked through, kept, repeated, refused."""

from __future__ import annotations

import tomllib
import uuid
from pathlib import Path
from typing import Any

import pytest
from rest_framework.test import APIClient

from contractor.models import Device
from panels.models import Calculation, Load
from tests.factories.contractor import CoordinatorFactory, SiteFactory, TechnicianFactory
from tests.panels.test_load_pages import adopted

pytestmark = pytest.mark.django_db
EXAMPLES = Path(__file__).parent.parent / "worked_examples"
PREVIEW = "/api/v1/calculations/preview"


def phone_of(person) -> APIClient:
    _device, token = Device.objects.create(user=person, name="phone")
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=f"Token {token}")
    return client


@pytest.fixture
def phone() -> APIClient:
    return phone_of(CoordinatorFactory())


def an_example(name: str) -> dict[str, Any]:
    example = tomllib.loads((EXAMPLES / f"{name}.toml").read_text())
    keys = ("method", "edition")
    return {**{key: example[key] for key in keys}, "inputs": example["dwelling"]}


def line(result: dict[str, Any], key: str) -> Any:
    lines = (line for section in result["sections"] for line in section["lines"])
    return next(line for line in lines if line["key"] == key)


# Pocket Guide to the National Electrical Code 2005, 8th ed., Annex D (see the example files).
@pytest.mark.parametrize(
    ("name", "total"), [("d1a", 18_600), ("d2a", 21_480), ("d2b", 29_200), ("d2c", 34_790)]
)
def test_a_description_is_worked_through_and_nothing_is_kept(phone, name, total):
    answer = phone.post(PREVIEW, an_example(name))
    assert answer.status_code == 200, answer.data
    assert line(answer.data, "load")["value"] == {"value": total, "unit": "VA"}
    assert line(answer.data, "load")["shown"] == f"{total:,} VA"
    assert answer.data["cautions"]
    assert not Calculation.objects.exists()


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"floor_area": 1500}, "floor_area"),
        ({"floor_area": "1500 VA"}, "floor_area"),
        ({"loads": [{"kind": "range"}]}, "loads[1].nameplate"),
        ({"loads": [{"kind": "range", "nameplate": "12 kWh"}]}, "loads[1].nameplate"),
        ({"loads": [{"kind": "range", "nameplate": "12 kW", "wats": 1}]}, "loads[1].wats"),
    ],
)
def test_a_fault_names_its_field(phone, changed, field):
    example = an_example("d1a")
    answer = phone.post(PREVIEW, {**example, "inputs": {**example["inputs"], **changed}})
    assert (answer.status_code, answer.data["code"]) == (422, "bad_description")
    assert list(answer.data["fields"]) == [field]


def test_nobody_without_a_token_calculates(db):
    assert APIClient().post(PREVIEW, an_example("d1a")).status_code == 401


def recorded(phone, site):
    url = f"/api/v1/sites/{site.pk}"
    home = {"floor_area_ft2": 1500, "small_appliance_circuits": 2, "laundry_circuits": 1}
    assert phone.put(f"{url}/home", home).status_code == 201
    for load in (
        {"kind": "range", "nameplate": 12, "unit": "kW"},
        {"kind": "dryer", "nameplate": 5.5, "unit": "kW"},
    ):
        assert phone.post(f"{url}/loads", load).status_code == 201
    return f"{url}/calculations"


def test_a_home_is_recorded_calculated_and_kept_from_the_field(phone):
    site = SiteFactory()
    adopted(site)
    url = recorded(phone, site)
    made = phone.post(url, {"method": "standard", "purpose": "permit"})
    assert made.status_code == 201, made.data
    assert made.data["total_va"] == 18_600
    assert made.data["edition"] == "2017"
    assert line(made.data["result"], "neutral")["value"]["value"] == 14_550
    assert phone.get(url).data["results"] == [made.data]
    assert phone.get(f"/api/v1/calculations/{made.data['id']}").data == made.data


def test_the_same_request_sent_twice_keeps_one(phone):
    site = SiteFactory()
    adopted(site)
    url = recorded(phone, site)
    said = {"id": str(uuid.uuid4()), "method": "standard"}
    assert [phone.post(url, said).status_code for _turn in range(2)] == [201, 200]
    assert Calculation.objects.count() == 1
    assert phone.post(url, {**said, "method": "optional"}).status_code == 409


def test_without_an_adoption_it_is_refused_until_someone_states_the_edition(phone):
    url = recorded(phone, SiteFactory())
    assert phone.post(url, {"method": "standard"}).data["code"] == "unknown_edition"
    unsaid = phone.post(url, {"method": "standard", "edition": "2017"})
    assert unsaid.data["code"] == "edition_unexplained"
    stated = {"method": "standard", "edition": "2017", "stated_by": "Plans examiner"}
    assert phone.post(url, stated).status_code == 201


def test_before_the_home_is_described_there_is_nothing_to_calculate(phone):
    site = SiteFactory()
    adopted(site)
    answer = phone.post(f"/api/v1/sites/{site.pk}/calculations", {"method": "standard"})
    assert (answer.status_code, answer.data["code"]) == (409, "no_home")


def test_edits_name_the_revision_they_were_based_on(phone):
    site = SiteFactory()
    recorded(phone, site)
    load = Load.objects.get(kind="dryer")
    url = f"/api/v1/loads/{load.pk}"
    assert phone.patch(url, {"nameplate": 6}).status_code == 428
    changed = phone.patch(url, {"nameplate": 6}, headers={"If-Match": '"1"'})
    assert (changed.status_code, changed["ETag"]) == (200, '"2"')
    assert phone.patch(url, {"nameplate": 7}, headers={"If-Match": '"1"'}).status_code == 412
    assert phone.delete(url, headers={"If-Match": '"2"'}).status_code == 204
    home = {"floor_area_ft2": 1600, "small_appliance_circuits": 2, "laundry_circuits": 1}
    assert phone.put(f"/api/v1/sites/{site.pk}/home", home).status_code == 428


def test_a_load_sent_twice_is_there_once(phone):
    site = SiteFactory()
    said = {"id": str(uuid.uuid4()), "kind": "range", "nameplate": 12.0, "unit": "kW"}
    url = f"/api/v1/sites/{site.pk}/loads"
    assert [phone.post(url, said).status_code for _turn in range(2)] == [201, 200]
    assert phone.post(url, {**said, "nameplate": 13.0}).status_code == 409


def test_a_technician_without_a_visit_there_finds_nothing(phone):
    site = SiteFactory()
    recorded(phone, site)
    stranger = phone_of(TechnicianFactory())
    for path in ("home", "loads", "calculations"):
        assert stranger.get(f"/api/v1/sites/{site.pk}/{path}").status_code == 404
    assert stranger.get(f"/api/v1/loads/{Load.objects.first().pk}").status_code == 404
