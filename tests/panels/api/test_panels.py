"""Panels, circuits, sources and readings over the API."""

from __future__ import annotations

import uuid

import pytest
from rest_framework.test import APIClient

from panels.models import Circuit, Panel
from tests.factories.contractor import SiteFactory
from tests.factories.panels import a_circuit, a_full_house, a_panel

pytestmark = pytest.mark.django_db
V1 = "/api/v1"


def plate(site, **said):
    return {"site": str(site.pk), "name": "Main panel", "rating_a": 200, "spaces": 42, **said}


def test_a_panel_is_made_read_changed_and_retired(phone, site):
    made = phone.post(f"{V1}/panels", plate(site, tandem_spaces="21-42"))
    assert made.status_code == 201
    assert (made["ETag"], made.data["bus_a"], made.data["fed_from"]) == ('"1"', 200, None)
    url = f"{V1}/panels/{made.data['id']}"
    changed = phone.patch(url, {"location": "Garage"}, headers={"If-Match": made["ETag"]})
    assert (changed.status_code, changed.data["location"], changed["ETag"]) == (
        200,
        "Garage",
        '"2"',
    )
    assert phone.get(url).data == changed.data
    assert phone.delete(url, headers={"If-Match": '"2"'}).status_code == 204
    assert phone.get(url).data["retired_at"] is not None
    assert Panel.objects.count() == 1


def test_a_change_names_its_base(phone, panel):
    url = f"{V1}/panels/{panel.pk}"
    assert phone.patch(url, {"location": "x"}).status_code == 428
    stale = phone.patch(url, {"location": "x"}, headers={"If-Match": '"7"'})
    assert (stale.status_code, stale.data["current_rev"]) == (412, 1)
    assert phone.delete(url).status_code == 428


def test_the_same_post_twice_makes_one(phone, site):
    said = plate(site, id=str(uuid.uuid4()))
    assert phone.post(f"{V1}/panels", said).status_code == 201
    assert phone.post(f"{V1}/panels", said).status_code == 200
    other = phone.post(f"{V1}/panels", said | {"rating_a": 100})
    assert (other.status_code, other.data["code"]) == (409, "id_taken")
    assert site.panels.count() == 1


def test_a_feeder_is_named_and_a_loop_refused(phone, site):
    main, sub = a_full_house(site)
    back = a_circuit(sub, 2, poles=2, rating_a=60, kind="feeder", name="Back feed")
    url = f"{V1}/panels/{main.pk}"
    loop = phone.patch(url, {"fed_from": str(back.pk)}, headers={"If-Match": main.etag})
    assert (loop.status_code, loop.data["code"]) == (409, "feeder_loop")
    assert "Main panel → Garage panel → Main panel" in loop.data["detail"]
    sub_url = f"{V1}/panels/{sub.pk}"
    told = phone.get(sub_url)
    assert told.data["fed_from"] == str(sub.fed_from_id)
    freed = phone.patch(sub_url, {"fed_from": None}, headers={"If-Match": told["ETag"]})
    assert freed.data["fed_from"] is None


@pytest.mark.parametrize(
    ("said", "status", "field"),
    [
        ({"name": ""}, 400, "name"),
        ({"spaces": 85}, 400, "spaces"),
        ({"tandem_spaces": "50"}, 422, "tandem_spaces"),
        ({"site": str(uuid.uuid4())}, 422, "site"),
        ({"fed_from": str(uuid.uuid4())}, 422, "fed_from"),
    ],
)
def test_what_cannot_be_is_told_by_field(phone, site, said, status, field):
    answer = phone.post(f"{V1}/panels", plate(site) | said)
    assert answer.status_code == status
    assert field in answer.data["fields"]
    assert not site.panels.exists()


def test_a_circuit_is_put_in_read_changed_and_taken_out(phone, panel):
    url = f"{V1}/panels/{panel.pk}/circuits"
    made = phone.post(url, {"spaces": [3, 1], "rating_a": 55, "name": "Range"})
    assert made.status_code == 201
    told = made.data
    assert (told["place"], told["spaces"], told["legs"], told["poles"]) == (
        "1,3", [1, 3], ["A", "B"], 2,
    )  # fmt: skip
    assert [notice["cite"] for notice in told["notices"]] == ["NFPA 70-2017, 240.6(A)"]
    one = f"{V1}/circuits/{told['id']}"
    moved = phone.patch(one, {"spaces": [2, 4], "rating_a": 50}, headers={"If-Match": '"1"'})
    assert (moved.data["place"], moved.data["notices"], moved["ETag"]) == ("2,4", [], '"2"')
    assert phone.delete(one, headers={"If-Match": '"2"'}).status_code == 204
    assert phone.get(one).status_code == 404


@pytest.mark.parametrize(
    ("said", "status", "code"),
    [
        ({"spaces": [1, 4]}, 422, "layout"),
        ({"spaces": [9, 11]}, 409, "space_taken"),
        ({"space": 43}, 422, "layout"),
        ({"space": 41, "poles": 2}, 422, "layout"),
        ({"space": 1, "poles": 3}, 422, "layout"),
        ({"space": 9, "half": "a"}, 409, "space_taken"),
        ({}, 422, "no_space"),
        ({"space": 1, "name": ""}, 422, "unnamed"),
    ],
)
def test_a_wrong_layout_is_refused(phone, panel, said, status, code):
    a_circuit(panel, 9, poles=2, rating_a=30, name="Dryer")
    answer = phone.post(
        f"{V1}/panels/{panel.pk}/circuits", {"rating_a": 20, "name": "Hall", **said}
    )
    assert (answer.status_code, answer.data["code"]) == (status, code)
    assert panel.circuits.count() == 1


def test_a_circuit_sent_twice_is_one(phone, panel):
    url = f"{V1}/panels/{panel.pk}/circuits"
    said = {"id": str(uuid.uuid4()), "space": 5, "half": "b", "rating_a": 15, "name": "Hall"}
    assert phone.post(url, said).status_code == 201
    assert phone.post(url, said).status_code == 200
    assert phone.post(url, said | {"rating_a": 20}).status_code == 409
    assert panel.circuits.count() == 1


def test_a_feeder_circuit_feeds_a_panel(phone, panel):
    sub = a_panel(panel.site, name="Garage panel")
    said = {"spaces": [1, 3], "rating_a": 100, "kind": "feeder", "feeds": str(sub.pk)}
    made = phone.post(f"{V1}/panels/{panel.pk}/circuits", said)
    assert (made.data["name"], made.data["feeds"]) == ("Garage panel", str(sub.pk))


@pytest.mark.parametrize("breakers", [1, 20])
def test_lists_ask_the_database_the_same_whatever_their_length(
    phone, panel, breakers, django_assert_num_queries
):
    for space in range(1, breakers + 1):
        a_circuit(panel, space)
    url = f"{V1}/panels/{panel.pk}/circuits"
    phone.get(url)
    with django_assert_num_queries(5):
        told = phone.get(url).data
    assert len(told["results"]) == breakers
    with django_assert_num_queries(4):
        phone.get(f"{V1}/panels?site={panel.site_id}")


def test_a_source_is_made_changed_and_removed(phone, panel):
    spare = a_circuit(panel, 1, poles=2, kind="spare", rating_a=40)
    url = f"{V1}/sites/{panel.site_id}/sources"
    said = {"id": str(uuid.uuid4()), "kind": "storage", "name": "Battery", "usable_kwh": 13.5}
    said["circuit"] = str(spare.pk)
    assert phone.post(url, said).status_code == 201
    assert phone.post(url, said).status_code == 200
    one = f"{V1}/sources/{said['id']}"
    changed = phone.patch(one, {"circuit": None}, headers={"If-Match": '"1"'})
    assert (changed.status_code, changed.data["circuit"]) == (200, None)
    assert len(phone.get(url).data["results"]) == 1
    bad = phone.patch(one, {"circuit": str(uuid.uuid4())}, headers={"If-Match": '"2"'})
    assert (bad.status_code, "circuit" in bad.data["fields"]) == (422, True)
    assert phone.delete(one, headers={"If-Match": '"2"'}).status_code == 204


def test_a_reading_is_recorded_judged_and_struck_out(phone, panel):
    url = f"{V1}/panels/{panel.pk}/readings"
    said = {"id": str(uuid.uuid4()), "kind": "voltage", "value": 128.2, "between": "A-N"}
    made = phone.post(url, said)
    assert made.status_code == 201
    assert made.data["finding"] == "outside"
    assert "COMAR" in made.data["finding_source"]
    assert phone.post(url, said).status_code == 200
    bad = phone.post(url, {"kind": "voltage", "value": 120, "between": "C-N"})
    assert (bad.status_code, "between" in bad.data["fields"]) == (422, True)
    one = f"{V1}/readings/{said['id']}"
    assert phone.get(one).data["value"] == 128.2
    assert phone.delete(one, headers={"If-Match": '"1"'}).status_code == 204
    assert phone.get(url).data["results"] == []


def test_what_a_technician_has_no_visit_at_is_not_there(phone, office_phone):
    elsewhere = a_panel(SiteFactory())
    circuit = a_circuit(elsewhere)
    for url in (
        f"{V1}/panels/{elsewhere.pk}",
        f"{V1}/panels/{elsewhere.pk}/circuits",
        f"{V1}/panels/{elsewhere.pk}/readings",
        f"{V1}/circuits/{circuit.pk}",
        f"{V1}/sites/{elsewhere.site_id}/sources",
    ):
        assert phone.get(url).status_code == 404
        assert office_phone.get(url).status_code == 200
    assert phone.get(f"{V1}/panels").data["results"] == []
    assert len(office_phone.get(f"{V1}/panels").data["results"]) == 1


def test_a_circuit_elsewhere_cannot_be_named(phone, panel):
    feeder = a_circuit(a_panel(SiteFactory()), 1, poles=2)
    answer = phone.patch(
        f"{V1}/panels/{panel.pk}", {"fed_from": str(feeder.pk)}, headers={"If-Match": '"1"'}
    )
    assert (answer.status_code, answer.data["code"]) == (422, "no_such_record")


def test_without_a_token_nothing_is_told(panel):
    assert APIClient().get(f"{V1}/panels/{panel.pk}").status_code == 401


def test_the_history_knows_who_changed_it_over_the_api(phone, panel, technician):
    phone.post(f"{V1}/panels/{panel.pk}/circuits", {"space": 1, "rating_a": 20, "name": "Hall"})
    circuit = Circuit.objects.get()
    event = Circuit.pgh_event_model.objects.get(pgh_obj_id=circuit.pk)
    assert event.pgh_context.metadata["user"] == str(technician.pk)
