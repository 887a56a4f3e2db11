"""Does every page of the firm's room open, empty and full, for who may see it?"""

from __future__ import annotations

import datetime as dt

import pytest
from django.test import Client
from django.urls import reverse

from contractor.models import Person
from tests.factories.contractor import (
    AbsenceFactory,
    CertificateFactory,
    CrewFactory,
    CustomerFactory,
    LicenceFactory,
    LinkFactory,
    SiteFactory,
)

pytestmark = pytest.mark.django_db
EMPTY = [
    "start", "account", "account-details", "account-password", "code-scan", "device-add", "firm",
    "people", "person-add", "crew-add", "customers", "customer-add", "import", "import-example",
    "customers-export", "duplicates", "sites",
]  # fmt: skip


@pytest.mark.parametrize("name", EMPTY)
def test_each_page_opens_while_there_is_nothing(as_owner: Client, name: str) -> None:
    assert as_owner.get(reverse(name)).status_code == 200


@pytest.mark.parametrize("kind", ["authorities", "utilities", "certificates"])
def test_each_short_list_opens(as_owner: Client, kind: str) -> None:
    for name in ("entries", "entry-add"):
        assert as_owner.get(reverse(name, args=[kind])).status_code == 200


def test_each_page_opens_with_rows_on_it(as_owner: Client, technician: Person) -> None:
    licence = LicenceFactory(person=technician)
    CertificateFactory(person=technician, expires_on=dt.date(2020, 1, 1))
    absence = AbsenceFactory(person=technician)
    crew = CrewFactory(people=[technician])
    site = LinkFactory().site
    twin = CustomerFactory(phone=site.customer.phone)
    pages = [
        reverse("people"), reverse("person", args=[technician.pk]),
        reverse("person-change", args=[technician.pk]),
        reverse("paper-change", args=[technician.pk, "licences", licence.pk]),
        reverse("paper-remove", args=[technician.pk, "absences", absence.pk]),
        reverse("paper-add", args=[technician.pk, "certificates"]),
        reverse("crew", args=[crew.pk]), reverse("customers"), reverse("sites"),
        reverse("customer", args=[site.customer_id]),
        reverse("customer-change", args=[site.customer_id]),
        reverse("customer-remove", args=[site.customer_id]),
        reverse("site-add", args=[site.customer_id]), reverse("site", args=[site.pk]),
        reverse("site-change", args=[site.pk]), reverse("site-remove", args=[site.pk]),
        reverse("link-revoke", args=[site.pk, site.links.get().pk]), reverse("duplicates"),
        reverse("customers-compare", args=[site.customer_id, twin.pk]),
        reverse("history", args=["site", site.pk]), reverse("history", args=["firm", 1]),
        reverse("history", args=["person", technician.pk]), reverse("customers-export"),
        reverse("entry-change", args=["authorities", site.authority_id]),
        reverse("entries", args=["authorities"]), reverse("people") + "?gone=1",
    ]  # fmt: skip
    for page in pages:
        assert as_owner.get(page).status_code == 200, page


@pytest.mark.parametrize("page", ["customers", "sites", "people", "duplicates"])
def test_a_list_asks_as_often_for_twenty_rows_as_for_two(
    as_owner: Client, page: str, django_assert_max_num_queries, django_assert_num_queries
) -> None:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    def make(number: int) -> None:
        for _each in range(number):
            site = SiteFactory()
            CustomerFactory(phone=site.customer.phone)
            person = LicenceFactory().person
            CertificateFactory(person=person)
            CrewFactory(people=[person])

    make(2)
    with CaptureQueriesContext(connection) as few:
        as_owner.get(reverse(page))
    make(9)
    with CaptureQueriesContext(connection) as many:
        as_owner.get(reverse(page))
    assert len(many) == len(few)
