"""Are sites over the API placed, guarded by revisions, and seen by who works there?"""

from __future__ import annotations

import uuid

import pytest
from rest_framework.test import APIClient

from contractor.models import Site
from tests.factories.contractor import CustomerFactory, SiteFactory

pytestmark = pytest.mark.django_db
URL = "/api/v1/sites"


def sent(**fields: object) -> dict[str, object]:
    address = {"street": "118 Wheelwright Lane", "city": "Harrow Mills", "state": "OH"}
    return {"customer": str(CustomerFactory().pk), "zip": "43215", **address, **fields}


def test_a_site_without_coordinates_is_placed_by_its_zip_code(
    coordinators_phone: APIClient,
) -> None:
    site = coordinators_phone.post(URL, sent()).data
    # The middle of 43215 by the postal data of the zipcodes library, version 3.0.
    assert (site["latitude"], site["longitude"]) == (39.9671, -83.0044)
    assert (site["placed"], site["time_zone"]) == ("zip", "America/New_York")
    assert "Columbus" in site["doubts"][0]


def test_typed_coordinates_win(coordinators_phone: APIClient) -> None:
    site = coordinators_phone.post(URL, sent(latitude=40.05, longitude=-82.95)).data
    assert (site["latitude"], site["placed"]) == (40.05, "hand")


def test_half_a_place_is_refused(coordinators_phone: APIClient) -> None:
    answer = coordinators_phone.post(URL, sent(latitude=40.05))
    assert (answer.status_code, answer.data["code"]) == (422, "half_a_place")


def test_the_same_request_sent_twice_adds_one(coordinators_phone: APIClient) -> None:
    request = sent(id=str(uuid.uuid4()), state="Oh", street=" 118 Wheelwright Lane ")
    answers = [coordinators_phone.post(URL, request).status_code for _each in range(2)]
    assert answers == [201, 200]
    assert Site.objects.count() == 1


def test_an_edit_names_the_revision_it_was_based_on(coordinators_phone: APIClient) -> None:
    url = f"{URL}/{SiteFactory().pk}"
    assert coordinators_phone.patch(url, {"pet_notes": "A goose"}).status_code == 428
    changed = coordinators_phone.patch(url, {"pet_notes": "A goose"}, headers={"If-Match": '"1"'})
    assert (changed.status_code, changed["ETag"]) == (200, '"2"')
    assert coordinators_phone.delete(url, headers={"If-Match": '"1"'}).status_code == 412


def test_a_new_zip_code_moves_only_what_the_old_one_placed(coordinators_phone: APIClient) -> None:
    by_zip = coordinators_phone.post(URL, sent()).data
    by_hand = coordinators_phone.post(URL, sent(latitude=40.05, longitude=-82.95)).data
    for site in (by_zip, by_hand):
        url = f"{URL}/{site['id']}"
        coordinators_phone.patch(url, {"zip": "43081"}, headers={"If-Match": '"1"'})
    assert Site.objects.get(pk=by_zip["id"]).latitude == 40.1146
    assert Site.objects.get(pk=by_hand["id"]).latitude == 40.05


def test_a_technician_sees_where_the_crew_works_and_nothing_else(
    technicians_phone: APIClient, crews_site: Site
) -> None:
    other = SiteFactory()
    assert [row["id"] for row in technicians_phone.get(URL).data["results"]] == [str(crews_site.pk)]
    assert technicians_phone.get(f"{URL}/{crews_site.pk}").status_code == 200
    assert technicians_phone.get(f"{URL}/{other.pk}").status_code == 404
    assert technicians_phone.get(f"{URL}/{uuid.uuid4()}").status_code == 404
