"""Two people have one record open: is nothing of either lost, and everything shown?"""

from __future__ import annotations

import pytest
from django.test import Client

from contractor.models import Customer, Person, Site
from tests.factories.contractor import CustomerFactory, SiteFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def customer() -> Customer:
    return CustomerFactory(name="Avery Quill", phone="+16145550142", email="a@mail.example")


def save(client: Client, customer: Customer, rev: int, **typed: str):
    values = {"name": "Avery Quill", "phone": "614-555-0142", "email": "a@mail.example"}
    return client.post(f"/customers/{customer.pk}/change/", {**values, "rev": rev, **typed})


def hidden_rev(page: str) -> int:
    return int(page.split('name="rev" value="')[1].split('"')[0])


def test_a_late_save_comes_back_joined_and_saves_at_the_second_press(
    as_coordinator: Client, customer: Customer
) -> None:
    Customer.objects.update(phone="+16145550199")
    late = save(as_coordinator, customer, 1, name="Avery B. Quill")
    page = late.content.decode()
    assert late.status_code == 422
    assert "Someone else changed this" in page
    assert "(614) 555-0142" in page
    assert "(614) 555-0199" in page
    assert 'value="(614) 555-0199"' in page, "theirs stands where I typed nothing"
    assert 'value="Avery B. Quill"' in page, "mine stands where they typed nothing"
    assert hidden_rev(page) == 2
    again = save(as_coordinator, customer, 2, name="Avery B. Quill", phone="+16145550199")
    assert again.status_code == 302
    customer.refresh_from_db()
    assert (customer.name, customer.phone) == ("Avery B. Quill", "+16145550199")


def test_where_both_typed_mine_stands_marked_until_i_decide(
    as_coordinator: Client, customer: Customer
) -> None:
    Customer.objects.update(name="Avery Quill-Sedge")
    page = save(as_coordinator, customer, 1, name="Avery B. Quill").content.decode()
    assert "you typed <q>Avery B. Quill</q>" in page
    assert "they made it <q>Avery Quill-Sedge</q>" in page
    customer.refresh_from_db()
    assert customer.name == "Avery Quill-Sedge"


def test_a_form_without_its_revision_overwrites_nothing(
    as_coordinator: Client, customer: Customer
) -> None:
    assert save(as_coordinator, customer, "", name="Lost").status_code == 422  # type: ignore[arg-type]
    customer.refresh_from_db()
    assert customer.name == "Avery Quill"


def test_a_third_change_between_the_two_presses_is_shown_as_well(
    as_coordinator: Client, customer: Customer
) -> None:
    Customer.objects.update(phone="+16145550199")
    rev = hidden_rev(save(as_coordinator, customer, 1, name="Mine").content.decode())
    Customer.objects.update(email="b@mail.example")
    page = save(as_coordinator, customer, rev, name="Mine", phone="+16145550199")
    assert page.status_code == 422
    assert "b@mail.example" in page.content.decode()


def test_a_site_keeps_its_lists_and_numbers_when_it_comes_back(
    as_coordinator: Client, coordinator: Person
) -> None:
    site = SiteFactory()
    Site.objects.update(pet_notes="A goose")
    sent = {"street": "5 Lock Street", "city": site.city, "state": "OH", "zip": site.zip}
    sent |= {"latitude": site.latitude, "longitude": site.longitude, "rev": 1}
    sent |= {
        "time_zone": site.time_zone,
        "authority": site.authority_id,
        "utility": site.utility_id,
    }
    page = as_coordinator.post(f"/sites/{site.pk}/change/", sent)
    assert page.status_code == 422
    form = page.context["form"]
    assert form["pet_notes"].value() == "A goose"
    assert str(form["authority"].value()) == str(site.authority_id)
    again = {name: form[name].value() for name in form.fields}
    saved = as_coordinator.post(
        f"/sites/{site.pk}/change/", {k: "" if v is None else v for k, v in again.items()}
    )
    assert saved.status_code == 302
    site.refresh_from_db()
    assert (site.street, site.pet_notes) == ("5 Lock Street", "A goose")
