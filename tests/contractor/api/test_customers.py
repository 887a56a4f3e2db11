"""Do customers over the API keep to revisions, repeats and rights?"""

from __future__ import annotations

import uuid

import pytest
from rest_framework.test import APIClient

from contractor.models import Customer, Site
from tests.factories.contractor import CustomerFactory, SiteFactory

pytestmark = pytest.mark.django_db
URL = "/api/v1/customers"


def test_a_customer_is_added_in_its_normal_form(coordinators_phone: APIClient) -> None:
    answer = coordinators_phone.post(URL, {"name": "Avery Quill", "phone": "(614) 555-0142"})
    assert answer.status_code == 201
    assert answer.data["phone"] == "+16145550142"
    assert answer["ETag"] == '"1"'


def test_the_same_request_sent_twice_adds_one(coordinators_phone: APIClient) -> None:
    sent = {"id": str(uuid.uuid4()), "name": "Avery Quill", "phone": "614-555-0142", "list_key": ""}
    first, again = (coordinators_phone.post(URL, sent) for _each in range(2))
    assert (first.status_code, again.status_code) == (201, 200)
    assert first.data == again.data
    other = coordinators_phone.post(URL, {**sent, "name": "Someone else"})
    assert (other.status_code, other.data["code"]) == (409, "id_taken")
    assert Customer.objects.count() == 1


def test_an_edit_names_the_revision_it_was_based_on(coordinators_phone: APIClient) -> None:
    url = f"{URL}/{CustomerFactory(name='Old').pk}"
    assert coordinators_phone.patch(url, {"name": "New"}).status_code == 428
    changed = coordinators_phone.patch(url, {"name": "New"}, headers={"If-Match": '"1"'})
    assert (changed.status_code, changed["ETag"]) == (200, '"2"')
    stale = coordinators_phone.patch(url, {"name": "Late"}, headers={"If-Match": '"1"'})
    assert (stale.status_code, stale.data["current_rev"]) == (412, 2)
    assert Customer.objects.get().name == "New"


def test_read_only_and_unknown_fields_change_nothing(coordinators_phone: APIClient) -> None:
    customer = CustomerFactory()
    sent = {"rev": 99, "created_at": "2001-01-01T00:00:00Z", "id": str(uuid.uuid4()), "colour": 1}
    answer = coordinators_phone.patch(f"{URL}/{customer.pk}", sent, headers={"If-Match": '"1"'})
    assert answer.status_code == 200
    customer.refresh_from_db()
    assert (customer.rev, str(customer.pk)) == (1, answer.data["id"])


@pytest.mark.parametrize(
    ("sent", "field"),
    [
        ({"name": ""}, "name"),
        ({"name": "A", "phone": "12"}, "phone"),
        ({"name": "A", "email": "a@b"}, "email"),
        ({"name": "A", "street": "1 Mill Race"}, "state"),
        ({"name": "A", "street": "1 Mill", "city": "X", "state": "OH", "zip": "90210"}, "zip"),
    ],
)
def test_what_cannot_be_used_is_named_by_field(
    coordinators_phone: APIClient, sent: dict[str, str], field: str
) -> None:
    answer = coordinators_phone.post(URL, sent)
    assert answer.status_code in (400, 422)
    assert field in answer.data["fields"]


def test_a_customer_with_a_site_stays(coordinators_phone: APIClient) -> None:
    site = SiteFactory()
    url = f"{URL}/{site.customer_id}"
    kept = coordinators_phone.delete(url, headers={"If-Match": '"1"'})
    assert (kept.status_code, kept.data["code"]) == (409, "customer_in_use")
    site.delete()
    assert coordinators_phone.delete(url, headers={"If-Match": '"1"'}).status_code == 204
    assert not Customer.objects.exists()


def test_pages_neither_skip_nor_repeat(coordinators_phone: APIClient) -> None:
    made = {str(CustomerFactory().pk) for _each in range(7)}
    url, seen = f"{URL}?limit=3", []
    while url:
        page = coordinators_phone.get(url).data
        seen += [row["id"] for row in page["results"]]
        url = page["next"]
    assert len(seen) == 7
    assert set(seen) == made


def test_a_list_asks_the_database_equally_often_however_long(
    coordinators_phone: APIClient, django_assert_num_queries
) -> None:
    CustomerFactory()
    coordinators_phone.get(URL)  # from here on the token's last use is fresh
    with django_assert_num_queries(4) as few:
        coordinators_phone.get(URL)
    for _each in range(8):
        SiteFactory()
    with django_assert_num_queries(len(few)):
        coordinators_phone.get(URL)


@pytest.mark.parametrize("asked", ["quill", "0142", "614 555 0142", "wheelwright", "avery@"])
def test_a_search_finds_by_name_phone_street_or_mail(
    coordinators_phone: APIClient, asked: str
) -> None:
    wanted = CustomerFactory(name="Avery Quill", phone="+16145550142", email="avery@mail.example")
    SiteFactory(customer=wanted, street="118 Wheelwright Lane")
    CustomerFactory(name="Rowan Sedge", phone="+17405550199", email="rowan@mail.example")
    found = coordinators_phone.get(URL, {"q": asked}).data["results"]
    assert [row["name"] for row in found] == ["Avery Quill"]


def test_a_technician_reads_own_customers_only_and_writes_none(
    technicians_phone: APIClient, crews_site: Site
) -> None:
    mine = crews_site.customer
    other = SiteFactory().customer
    assert [row["id"] for row in technicians_phone.get(URL).data["results"]] == [str(mine.pk)]
    assert technicians_phone.get(f"{URL}/{mine.pk}").status_code == 200
    assert technicians_phone.get(f"{URL}/{other.pk}").status_code == 404
    assert technicians_phone.post(URL, {"name": "A"}).status_code == 403
    changed = technicians_phone.patch(
        f"{URL}/{mine.pk}", {"name": "A"}, headers={"If-Match": '"1"'}
    )
    assert changed.status_code == 403
