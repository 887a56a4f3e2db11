"""Whose address is believed, and what does an empty firm do with its first visitor?"""

from __future__ import annotations

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import Client, RequestFactory

from contractor.middleware import ClientAddress
from contractor.models import Person


def seen(forwarded: str, proxies: int, settings) -> str:
    settings.TRUSTED_PROXIES = proxies
    request = RequestFactory().get("/", headers={"X-Forwarded-For": forwarded})

    def answer(request: HttpRequest) -> HttpResponse:
        return HttpResponse(request.META["REMOTE_ADDR"])

    return ClientAddress(answer)(request).content.decode()


@pytest.mark.parametrize(
    ("forwarded", "proxies", "address"),
    [
        ("203.0.113.9", 0, "127.0.0.1"),
        ("203.0.113.9", 1, "203.0.113.9"),
        ("198.51.100.1, 203.0.113.9", 1, "203.0.113.9"),
        ("198.51.100.1, 203.0.113.9, 10.0.0.2", 2, "203.0.113.9"),
        ("203.0.113.9", 2, "127.0.0.1"),
        ("not an address", 1, "127.0.0.1"),
        ("", 1, "127.0.0.1"),
        ("2001:db8::7", 1, "2001:db8::7"),
    ],
)
def test_only_what_the_trusted_proxy_added_is_believed(
    forwarded: str, proxies: int, address: str, settings
) -> None:
    assert seen(forwarded, proxies, settings) == address


@pytest.mark.django_db
@pytest.mark.parametrize("path", ["/", "/customers/", "/sign-in/", "/account/"])
def test_while_there_is_nobody_every_page_leads_to_the_beginning(client: Client, path: str) -> None:
    assert client.get(path)["Location"] == "/begin/"


@pytest.mark.django_db
def test_once_there_is_somebody_every_page_asks_for_sign_in(owner: Person, client: Client) -> None:
    assert client.get("/customers/")["Location"] == "/sign-in/?next=/customers/"
    assert client.get("/begin/")["Location"] == "/"


@pytest.mark.django_db
def test_a_refused_post_comes_back_to_its_page_with_the_sentence(
    technician: Person, as_owner: Client
) -> None:
    Person.objects.filter(pk=technician.pk).update(is_active=False)
    page = f"/people/{technician.pk}/"
    sent = {"headers": {"Referer": f"http://testserver{page}"}, "follow": True}
    answer = as_owner.post(f"{page}invite/", **sent)
    assert answer.redirect_chain == [(f"http://testserver{page}", 302)]
    assert "Only people who work here now can be invited." in answer.content.decode()


@pytest.mark.django_db
def test_a_refused_post_from_elsewhere_is_answered_where_it_stands(
    technician: Person, as_owner: Client
) -> None:
    Person.objects.filter(pk=technician.pk).update(is_active=False)
    sent = {"headers": {"Referer": "https://evil.example/"}}
    answer = as_owner.post(f"/people/{technician.pk}/invite/", **sent)
    assert answer.status_code == 409
    assert "Only people who work here now can be invited." in answer.content.decode()
