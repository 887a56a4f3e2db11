"""Do the shell of a page, the switch for sunlight and the pages of refusal work?"""

import re

import pytest
from django.contrib.auth.models import AnonymousUser
from django.template.loader import render_to_string

from contractor.errors import Refused, Several
from contractor.models import Firm

pytestmark = pytest.mark.django_db


@pytest.fixture
def gallery(client, settings):
    settings.DEBUG = True
    return client


def test_the_gallery_shows_only_while_developing(client, settings):
    settings.DEBUG = False
    assert client.get("/look/").status_code == 404


def test_sunlight_is_kept_on_the_device_and_can_be_left(gallery):
    assert 'data-light="paper"' in gallery.get("/look/").text
    answer = gallery.post("/light/", {"light": "sun", "next": "/look/"})
    assert answer.headers["Location"] == "/look/"
    assert answer.cookies["light"]["httponly"]
    assert 'data-light="sun"' in gallery.get("/look/").text
    gallery.post("/light/", {"light": "paper", "next": "/look/"})
    assert 'data-light="paper"' in gallery.get("/look/").text


def test_an_unknown_light_is_not_kept(gallery):
    gallery.cookies["light"] = '"><script>'
    assert 'data-light="paper"' in gallery.get("/look/").text
    assert "light" not in gallery.post("/light/", {"light": "disco"}).cookies


def test_the_switch_does_not_lead_to_strangers(client):
    answer = client.post("/light/", {"light": "sun", "next": "https://elsewhere.example/"})
    assert answer.headers["Location"] == "/"


def test_a_done_message_carries_its_undo(gallery):
    page = gallery.post("/look/", follow=True).text
    message = page[page.index('id="messages"') :]
    assert "Visit moved to Tuesday 8:00." in message
    assert re.search(r'<form method="post" action="/look/">.*?Undo', message, re.S)


def test_a_page_holds_one_title_and_the_way_past_the_navigation(gallery):
    page = gallery.get("/look/").text
    assert page.count("<h1") == 1
    assert page.index('class="skip" href="#content"') < page.index("<header")
    assert '<main id="content"' in page


@pytest.mark.parametrize("status", [400, 403, 404, 429])
def test_pages_of_refusal_say_what_to_do_before_there_is_a_firm(rf, status):
    request = rf.get("/")
    request.user = AnonymousUser()
    page = render_to_string(f"{status}.html", request=request)
    assert "<h1>" in page
    assert "Your firm" in page
    assert re.search(r'<div class="stack">\s*<p>', page)


def test_an_old_form_is_told_apart_from_a_missing_right(rf):
    assert "grown old" in render_to_string("403.html", {"stale_form": True})
    assert "grown old" not in render_to_string("403.html")


def test_the_page_of_a_breakdown_needs_no_database(django_db_blocker):
    with django_db_blocker.block():
        page = render_to_string("500.html")
    assert "was not saved" in page


def test_a_refusal_names_every_reason(rf):
    several = Several([Refused("a", "The crew is away."), Refused("b", "The permit is missing.")])
    page = render_to_string("refused.html", {"refusal": several})
    assert "<li>The crew is away.</li>" in page
    assert "<li>The permit is missing.</li>" in page
    assert "Only one." in render_to_string("refused.html", {"refusal": Refused("x", "Only one.")})


def test_a_page_reads_the_firm_once(gallery, django_assert_num_queries):
    Firm.objects.create(id=1, name="Tallow Creek Electric", phone="+16145550142")
    with django_assert_num_queries(1):
        page = gallery.get("/look/").text
    assert "Tallow Creek Electric" in page
    assert "(614) 555-0142" in page
