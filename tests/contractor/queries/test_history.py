"""Is every change told: who, when, what it was and is, and from where?"""

from __future__ import annotations

import datetime as dt

import pytest
from django.test import Client

from contractor.models import Customer, Person, Site
from contractor.queries.devices import device_words
from contractor.queries.history import as_of, history, model_of
from contractor.services.customers import change_customer
from tests.factories.contractor import (
    AuthorityFactory,
    CustomerFactory,
    LicenceFactory,
    SiteFactory,
)

pytestmark = pytest.mark.django_db


def test_a_change_on_a_page_is_told_with_its_author_and_device(
    coordinator: Person, as_coordinator: Client
) -> None:
    customer = CustomerFactory(name="Avery Quill", phone="+16145550142", email="")
    phone_browser = "Mozilla/5.0 (Linux; Android 15) AppleWebKit/537.36 Chrome/156.0 Mobile"
    as_coordinator.post(
        f"/customers/{customer.pk}/change/",
        {"name": "Avery Quill", "phone": "614-555-0199", "rev": "1"},
        headers={"User-Agent": phone_browser},
        REMOTE_ADDR="203.0.113.9",
    )
    entry = history("customer", customer)[0]
    assert (entry.who, entry.verb, entry.what) == (
        "Dana Whitlock",
        "changed",
        "customer Avery Quill",
    )
    assert [(change.label, change.was, change.now) for change in entry.changes] == [
        ("phone", "(614) 555-0142", "(614) 555-0199")
    ]
    assert entry.source == "Chrome on Android, 203.0.113.9"


def test_a_change_by_a_service_alone_names_its_author_too(coordinator: Person) -> None:
    customer = CustomerFactory()
    change_customer(customer=customer, values={"name": "New"}, by=coordinator, rev=1)
    assert history("customer", customer)[0].who == "Dana Whitlock"


def test_a_bulk_change_is_not_missed(coordinator: Person) -> None:
    site = SiteFactory(pet_notes="")
    Site.objects.update(pet_notes="A goose")
    entry = history("site", site)[0]
    assert (entry.who, entry.changes[0].now) == ("the program itself", "A goose")


def test_rows_that_are_pointed_at_are_told_by_name(coordinator: Person) -> None:
    site = SiteFactory(authority=AuthorityFactory(name="Harrow Mills"))
    Site.objects.update(authority=AuthorityFactory(name="Scioto Township"))
    assert [(each.was, each.now) for each in history("site", site)[0].changes] == [
        ("Harrow Mills", "Scioto Township")
    ]


def test_what_hangs_on_a_person_is_part_of_the_story(coordinator: Person) -> None:
    licence = LicenceFactory(expires_on=dt.date(2026, 12, 31))
    person = licence.person
    licence.expires_on = dt.date(2027, 12, 31)
    licence.save()
    licence.delete()
    told = [entry for entry in history("person", person) if entry.what.startswith("licence")]
    assert [entry.verb for entry in told] == ["removed", "changed", "added"]
    changed = told[1].changes[0]
    assert (changed.was, changed.now) == ("Dec. 31, 2026", "Dec. 31, 2027")


def test_a_password_is_never_part_of_any_story(owner: Person) -> None:
    owner.set_password("brass-after-noon")
    owner.save()
    told = str(history("person", owner))
    assert "password" not in told
    assert "argon2" not in told
    events = Person.pgh_event_model.objects.values()
    assert not any("password" in event for event in events)


def test_the_record_as_it_was_at_each_revision(coordinator: Person) -> None:
    customer = CustomerFactory(name="One")
    for name in ("Two", "Three"):
        Customer.objects.update(name=name)
    assert [as_of(customer, rev).name for rev in (1, 2, 3)] == ["One", "Two", "Three"]
    assert as_of(customer, 9) is None


def test_the_page_is_for_the_office(
    as_coordinator: Client, as_technician: Client, crews_site: Site
) -> None:
    url = f"/history/site/{crews_site.pk}/"
    assert as_coordinator.get(url).status_code == 200
    assert as_technician.get(url).status_code == 403
    for nowhere in ("/history/session/1/", "/history/site/7/", "/history/firm/x/"):
        assert as_coordinator.get(nowhere).status_code == 404
    assert model_of("session") is None


def test_a_long_story_costs_the_same_as_a_short_one(
    coordinator: Person, django_assert_num_queries
) -> None:
    customer = CustomerFactory(name="0")
    SiteFactory(customer=customer)
    Customer.objects.update(name="1")
    with django_assert_num_queries(3):
        history("customer", customer)
    for number in range(30):
        Customer.objects.update(name=str(number))
    with django_assert_num_queries(3):
        assert len(history("customer", customer)) == 33


@pytest.mark.parametrize(
    ("agent", "words"),
    [
        ("Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Firefox/140.0", "Firefox on Linux"),
        ("Mozilla/5.0 (iPhone; CPU iPhone OS 19_0) Version/19 Safari/604", "Safari on iPhone"),
        ("panel-app/1.4 (van 2)", "panel-app"),
        ("", ""),
    ],
)  # fmt: skip
def test_devices_are_told_in_words(agent: str, words: str) -> None:
    assert device_words(agent) == words
