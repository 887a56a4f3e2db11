"""Is the customer or site meant found by what a person remembers of it?"""

from __future__ import annotations

import pytest

from contractor.models import Customer, Person, Site
from contractor.queries.customers import customers, sites
from tests.factories.contractor import CustomerFactory, SiteFactory

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _rows() -> None:
    avery = CustomerFactory(
        name="Avery Quill", phone="+16145550142", email="aq@mail.example", list_key="K-7",
        street="PO Box 20", city="Harrow Mills", state="OH", zip="43099",
    )  # fmt: skip
    SiteFactory(customer=avery, street="118 Wheelwright Lane", label="Upper flat", zip="43081")
    other = CustomerFactory(name="Rowan Sedge", phone="+17405550199", email="rs@mail.example")
    SiteFactory(customer=other, street="5 Lock Street", city="Tern Hollow", zip="43099")


@pytest.mark.parametrize(
    "asked",
    ["quill", "QUI", "aq@", "box 20", "k-7", "0142", "(614) 555-0142", "wheelwright", "upper",
     " Avery ", "Avary Quill", "a\0very"],
)  # fmt: skip
def test_a_customer_is_found_by_any_of_these(asked: str) -> None:
    assert [row.name for row in customers(asked)] == ["Avery Quill"]


@pytest.mark.parametrize(
    "asked",
    ["wheelwright", "118 w", "upper", "43081", "quill", "614 555 0142", "Wheelrigt Lane"],
)
def test_a_site_is_found_by_any_of_these(asked: str, owner: Person) -> None:
    assert [row.street for row in sites(owner, asked)] == ["118 Wheelwright Lane"]


@pytest.mark.parametrize("asked", ["zzz", "999999", "%", "_", "'; --"])
def test_what_means_nobody_finds_nobody(asked: str, owner: Person) -> None:
    assert list(customers(asked)) == []
    assert list(sites(owner, asked)) == []


def test_without_a_question_everyone_is_there_in_order_with_their_sites() -> None:
    CustomerFactory(name="Blair Without")
    found = [(row.name, row.site_count) for row in customers()]
    assert found == [("Avery Quill", 1), ("Blair Without", 0), ("Rowan Sedge", 1)]


def test_a_search_shows_a_technician_no_more_than_the_list(
    technician: Person, crews_site: Site
) -> None:
    assert list(sites(technician, "lock")) == []
    assert list(sites(technician, crews_site.street)) == [crews_site]


def test_a_number_that_later_data_no_longer_know_is_still_found_and_saved() -> None:
    odd_number = "+1" + "6140170674"  # no exchange starts with 0: nobody can have it
    Customer.objects.filter(name="Avery Quill").update(phone=odd_number)
    odd = Customer.objects.get(phone=odd_number)
    odd.notes = "still saved"
    odd.save()
    assert customers("0170674").get() == odd
