"""The customer's page: opened by a good link only, readable, searchable, changing nothing."""

from __future__ import annotations

import datetime as dt
import uuid

import pytest
from django.urls import reverse
from django.utils import timezone

from contractor.models import CustomerLink
from contractor.services.links import make_link, revoke_link
from panels.services import circuits, directory, sources
from tests.factories.contractor import FirmFactory, LinkFactory
from tests.factories.panels import a_circuit, a_full_house, a_panel, a_recorder
from tests.panels import reading

pytestmark = pytest.mark.django_db
Purpose = CustomerLink.Purpose


@pytest.fixture(autouse=True)
def firm():
    return FirmFactory()


def a_home(**said):
    """A home with two issued panels and a mail link to it."""
    main, sub = a_full_house()
    for panel in (main, sub):
        directory.issue_directory(panel=panel, by=a_recorder(), now=timezone.now())
    return main, sub, LinkFactory(site=main.site, **said)


def page(client, link, **query):
    return client.get(reverse("customer-page", args=[link.token]), query)


def test_every_panel_of_the_home_is_there_with_its_circuits(client):
    main, sub, link = a_home()
    answer = page(client, link)
    said = answer.content.decode()
    assert answer.status_code == 200
    for text in (
        main.site.address, "Main panel", "Garage panel", "Range", "Garage receptacles",
        "Basement, north wall", "Fed by the service", "Fed from Main panel, spaces 5, 7, 100 A",
        "Revision 1", 'href="tel:+16145550100"', 'href="tel:911"', "(614) 555-0100",
    ):  # fmt: skip
        assert text in said
    assert f'href="#panel-{sub.pk}"' in said
    assert f'id="panel-{sub.pk}"' in said


def test_the_door_code_opens_the_page_with_its_own_panel_first(client):
    main, sub, _link = a_home()
    door = CustomerLink.objects.get(site=main.site, subject=sub.pk)
    assert door.purpose == Purpose.DOOR
    said = page(client, door).content.decode()
    assert said.index(f'id="panel-{sub.pk}"') < said.index(f'id="panel-{main.pk}"')


def test_the_page_is_kept_by_nobody(client):
    _main, _sub, link = a_home()
    for answer in (
        page(client, link),
        client.get(reverse("customer-directories", args=[link.token])),
    ):
        assert "no-store" in answer["Cache-Control"]
        assert answer["Referrer-Policy"] == "no-referrer"
        assert "noindex" in answer["X-Robots-Tag"]


def expired(link):
    link.expires_at = timezone.now() - dt.timedelta(seconds=1)
    link.save()
    return link.token


def revoked(link):
    return revoke_link(link=link, by=a_recorder(), now=timezone.now()).token


def tampered(link):
    return link.token[:-1] + ("A" if link.token[-1] != "A" else "B")


def unsigned(link):
    return link.id.hex


def of_an_unknown_row(link):
    link.id = uuid.uuid4()
    return link.token


def for_another_purpose(link):
    return make_link(site=link.site, purpose=Purpose.ANSWER, now=timezone.now()).token


def signed_for_another_purpose(link):
    link.purpose = Purpose.ANSWER  # the row says mail
    return link.token


@pytest.mark.parametrize(
    ("spoil", "status"),
    [
        (expired, 410), (revoked, 410), (tampered, 404), (unsigned, 404), (of_an_unknown_row, 404),
        (for_another_purpose, 404), (signed_for_another_purpose, 404),
    ],
)  # fmt: skip
@pytest.mark.parametrize("name", ["customer-page", "customer-directories"])
def test_a_link_that_is_no_good_gets_one_friendly_page(client, spoil, status, name):
    main, _sub, link = a_home()
    answer = client.get(reverse(name, args=[spoil(link)]))
    said = answer.content.decode()
    assert answer.status_code == status
    assert "This link is no longer good" in said
    assert 'href="tel:+16145550100"' in said
    assert main.site.street not in said
    assert "no-store" in answer["Cache-Control"]


def test_reading_changes_nothing_but_the_counter(client):
    _main, _sub, link = a_home()
    before = CustomerLink.objects.filter(pk=link.pk).values().get()
    page(client, link)
    page(client, link)
    after = CustomerLink.objects.filter(pk=link.pk).values().get()
    assert after == before | {"opened": before["opened"] + 2}


@pytest.mark.parametrize("verb", ["post", "put", "delete", "patch"])
def test_nothing_can_be_sent_to_it(client, verb):
    _main, _sub, link = a_home()
    assert getattr(client, verb)(reverse("customer-page", args=[link.token])).status_code == 405


def test_a_search_shows_what_was_asked_for_and_hides_the_rest(client):
    main, _sub, link = a_home()
    said = page(client, link, q="garage RECEPT").content.decode()
    assert "1 breaker found." in said
    shown = [part for part in said.split("<li data-breaker")[1:] if " hidden>" not in part[:200]]
    assert len(shown) == 1
    assert "Garage receptacles" in shown[0]
    assert f'id="panel-{main.pk}" aria-labelledby="name-{main.pk}" data-panel hidden' in said


def test_a_search_without_a_match_says_so_and_hides_nothing(client):
    _main, _sub, link = a_home()
    said = page(client, link, q="<script>alert(1)</script>").content.decode()
    assert "Nothing by that name" in said
    assert "<script>alert" not in said
    assert "data-panel hidden" not in said


def test_the_page_shows_what_was_issued_not_what_was_typed_since(client):
    main, _sub, link = a_home()
    circuit = main.circuits.get(name="Range")
    circuits.change_circuit(circuit=circuit, name="Cooktop island", by=a_recorder())
    assert "Cooktop island" not in page(client, link).content.decode()
    directory.issue_directory(panel=main, by=a_recorder(), now=timezone.now())
    said = page(client, link).content.decode()
    assert "Cooktop island" in said
    assert "Revision 2" in said


def test_other_sources_and_their_disconnects_are_told(client):
    main, _sub, link = a_home()
    sources.add_source(
        site=main.site,
        kind="solar",
        name="Roof array",
        disconnect_at="By the meter",
        by=a_recorder(),
    )
    directory.issue_directory(panel=main, by=a_recorder(), now=timezone.now())
    said = page(client, link).content.decode()
    assert "More than one source of power" in said
    assert "By the meter" in said


def test_before_anything_is_issued_the_page_says_what_to_expect(client):
    panel = a_panel()
    answer = page(client, LinkFactory(site=panel.site))
    assert "on its way" in answer.content.decode()
    pdf = client.get(reverse("customer-directories", args=[LinkFactory(site=panel.site).token]))
    assert pdf.status_code == 404


def test_the_customer_can_print_every_panel(client):
    _main, _sub, link = a_home()
    answer = client.get(reverse("customer-directories", args=[link.token]))
    assert answer["Content-Type"] == "application/pdf"
    said = reading.text(answer.content)
    assert "Main panel" in said
    assert "Garage panel" in said


def test_one_home_never_shows_another(client):
    _main, _sub, link = a_home()
    other = a_panel(name="Not yours")
    directory.issue_directory(panel=other, by=a_recorder(), now=timezone.now())
    said = page(client, link).content.decode()
    assert "Not yours" not in said


def test_queries_do_not_grow_with_the_panels(client, django_assert_max_num_queries):
    main, _sub, link = a_home()
    with django_assert_max_num_queries(7):
        page(client, link)
    for number in range(4):
        more = a_panel(main.site, name=f"Shop {number}")
        a_circuit(more, 1)
        directory.issue_directory(panel=more, by=a_recorder(), now=timezone.now())
    with django_assert_max_num_queries(7):
        page(client, link)
