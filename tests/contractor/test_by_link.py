"""Does a page behind a customer's link open for its holder, and tell everyone else the same?"""

from __future__ import annotations

import re

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import RequestFactory
from django.utils import timezone

from contractor.by_link import by_link
from contractor.models import CustomerLink
from contractor.services.links import revoke_link
from tests.factories.contractor import FirmFactory, LinkFactory, OwnerFactory

pytestmark = pytest.mark.django_db
Purpose = CustomerLink.Purpose


@by_link(Purpose.MAIL)
def page(request: HttpRequest, link: CustomerLink) -> HttpResponse:
    return HttpResponse(link.site.street)


@pytest.fixture(autouse=True)
def _firm() -> None:
    FirmFactory(phone="+16145550100")


def ask(token: str, address: str = "203.0.113.9") -> HttpResponse:
    request = RequestFactory().get("/", REMOTE_ADDR=address)
    return page(request, token=token)


def test_the_holder_reads_the_page_and_nobody_keeps_it() -> None:
    link = LinkFactory()
    answer = ask(link.token)
    assert answer.content.decode() == link.site.street
    assert "no-store" in answer["Cache-Control"]
    assert answer["Referrer-Policy"] == "no-referrer"
    assert "noindex" in answer["X-Robots-Tag"]


def test_whatever_is_wrong_the_page_is_one_and_names_the_firm() -> None:
    over, revoked, other = LinkFactory(), LinkFactory(), LinkFactory(purpose=Purpose.DOOR)
    CustomerLink.objects.filter(pk=over.pk).update(expires_at=timezone.now())
    revoke_link(link=revoked, by=OwnerFactory(), now=timezone.now())
    answers = [ask(token) for token in (over.token, revoked.token, other.token, "nonsense")]
    assert [answer.status_code for answer in answers] == [410, 410, 404, 404]
    pages = {re.sub(r"\"\w{64}\"", "", each.content.decode()) for each in answers}
    assert len(pages) == 1
    assert "(614) 555-0100" in pages.pop()


def test_reading_changes_nothing_but_the_count() -> None:
    link = LinkFactory()
    for _each in range(20):
        ask(link.token)
    before = CustomerLink.objects.filter(pk=link.pk).values().get()
    assert before.pop("opened") == 20
    assert before["revoked_at"] is None
    assert before["expires_at"] == link.expires_at


def test_guessing_has_an_end_for_the_guesser_alone() -> None:
    link = LinkFactory()
    statuses = [ask(f"{number:032x}.guess").status_code for number in range(1000)]
    assert statuses.count(404) == 30
    assert statuses[-1] == 429
    assert ask(link.token).status_code == 429
    assert ask(link.token, "198.51.100.7").status_code == 200
