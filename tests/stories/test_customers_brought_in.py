"""A list brought in twice, a pair found in it, and the two made one, over HTTP."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from contractor.models import Customer, Site, UploadedList
from tests.factories.contractor import CoordinatorFactory, FirmFactory

pytestmark = pytest.mark.django_db
GOOD = (
    b"Client;Phone;Address;Town;ST;Zip Code\r\n"
    b"Avery Quill;740-555-0118;118 Mill Race;Harrow Mills;OH;43099\r\n"
    b"A. Quill;(740) 555-0118;5 Lock Street;Harrow Mills;OH;43099\r\n"
)
BAD = GOOD + b"Rowan Sedge;12;7 Lock Street;Harrow Mills;OH;90210\r\n"


@pytest.fixture
def office() -> Client:
    FirmFactory()
    client = Client()
    client.force_login(CoordinatorFactory(), backend="django.contrib.auth.backends.ModelBackend")
    return client


def choose(client: Client, data: bytes, name: str = "ours.csv"):
    return client.post("/customers/import/", {"file": SimpleUploadedFile(name, data)}, follow=True)


def take(client: Client):
    newest = UploadedList.objects.order_by("uploaded_at").last()
    return client.post(f"/customers/import/{newest.pk}/take/", follow=True)


def test_bad_rows_are_named_and_nothing_can_be_taken(office: Client) -> None:
    page = choose(office, BAD).content.decode()
    assert "Line 4" in page
    assert "not a number that can be dialled" in page
    assert "Take in all" not in page
    insisted = take(office)
    assert insisted.status_code == 422
    assert "1 row cannot be used, so nothing was taken in" in insisted.content.decode()
    assert not Customer.objects.exists()


def test_the_same_list_twice_and_then_the_pair_in_it(office: Client) -> None:
    page = choose(office, GOOD).content.decode()
    assert "Take in all 2 rows" in page
    assert not Customer.objects.exists(), "looking changes nothing"
    take(office)
    assert (Customer.objects.count(), Site.objects.count()) == (2, 2)

    again = choose(office, GOOD).content.decode()
    assert "Everything in this list is there already" in again
    assert "Take in all" not in again

    assert "same phone" in office.get("/customers/duplicates/").content.decode()
    keep, drop = Customer.objects.get(name="Avery Quill"), Customer.objects.get(name="A. Quill")
    compare = f"/customers/{keep.pk}/with/{drop.pk}/"
    assert "5 Lock Street" in office.get(compare).content.decode()
    office.post(compare, {"keep_rev": keep.rev, "drop_rev": drop.rev})
    assert keep.sites.count() == 2
    assert office.get(f"/customers/{drop.pk}/")["Location"] == f"/customers/{keep.pk}/"
    assert "No two customers look alike" in office.get("/customers/duplicates/").content.decode()

    third = choose(office, GOOD).content.decode()
    assert "looks like Avery Quill, who is there already" in third, "told before it doubles again"


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "The file is empty."),
        (b"\xff\xfe\x00\x01\x02" * 9, "neither a CSV nor an XLSX"),
        (b"PK\x03\x04 nothing more", "The workbook cannot be read."),
        (b"Colour\nred\n", "The list has no column “Customer”."),
    ],
)
def test_a_file_that_is_no_list_is_told_at_its_field(
    office: Client, data: bytes, said: str
) -> None:
    answer = choose(office, data)
    assert answer.status_code == 422
    assert said in answer.content.decode()


def test_a_file_beyond_the_limit_is_refused(office: Client, settings) -> None:
    settings.LIST_MAX_BYTES = 64
    assert "larger than" in choose(office, GOOD).content.decode()


def test_two_who_are_not_the_same_are_not_shown_again(office: Client) -> None:
    choose(office, GOOD)
    take(office)
    one, other = Customer.objects.all()
    office.post(f"/customers/{one.pk}/not/{other.pk}/", {"next": f"/customers/{one.pk}/"})
    assert "No two customers look alike" in office.get("/customers/duplicates/").content.decode()
    assert office.get(f"/customers/{one.pk}/").context["twins"] == []
