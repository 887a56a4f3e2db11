"""Does a press lead back only to pages of ours, and to none by a page's mere name?"""

from __future__ import annotations

import pytest
from django.test import Client, RequestFactory

from contractor.ways_back import back_to
from tests.factories.contractor import OwnerFactory


@pytest.mark.parametrize(
    ("asked", "back"),
    [
        ("/week/?from=2026-11-25", "/week/?from=2026-11-25"),
        ("http://testserver/jobs/", "http://testserver/jobs/"),
        ("http://elsewhere.example/jobs/", "/usual/"),
        ("//elsewhere.example/jobs/", "/usual/"),
        ("javascript:alert(1)", "/usual/"),
        ("week", "/usual/"),
        ("no page of ours", "/usual/"),
        ("", "/usual/"),
    ],
)
def test_only_an_address_of_ours_is_gone_back_to(asked: str, back: str) -> None:
    assert back_to(RequestFactory().post("/light/", {"next": asked}), "/usual/") == back


@pytest.mark.django_db
def test_nonsense_in_the_address_of_the_sign_in_page_keeps_nobody_out(client: Client) -> None:
    OwnerFactory(email="ada@tallowcreek.example", password="copper kettle 42")
    sent = {"username": "ada@tallowcreek.example", "password": "copper kettle 42"}
    assert client.post("/sign-in/?next=nonsense", sent)["Location"] == "/"
    assert client.post("/light/", {"light": "sun", "next": "nonsense"})["Location"] == "/"
