"""The customer's pages: one press to answer, nothing by looking, no account."""

from __future__ import annotations

import datetime as dt
import io
import re
import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from PIL import Image

from contractor.models import CustomerLink
from followups.cadence.words import Answer
from followups.models import Callback, Message, OptOut, Reply, Thanks
from followups.services import letters
from tests.factories import followups as made
from tests.factories import jobs as planned

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _room_for_pictures(settings, tmp_path) -> None:
    planned.firm()
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def check_in(time_machine) -> Message:
    time_machine.move_to(made.WEEK_LATER + dt.timedelta(hours=1))
    return made.sent_check_in(planned.person("Ana"))


@pytest.fixture
def browser() -> Client:
    return Client(enforce_csrf_checks=True)  # the customer has no cookie of ours


def address(check_in: Message, name: str = "answer") -> str:
    return reverse(name, args=[made.link(check_in).token])


def picture(size: tuple[int, int] = (40, 30), name: str = "panel.png") -> SimpleUploadedFile:
    drawn = io.BytesIO()
    Image.new("RGB", size, "orange").save(drawn, "PNG")
    return SimpleUploadedFile(name, drawn.getvalue(), "image/png")


def rows() -> list[int]:
    return [model.objects.count() for model in (Reply, Callback, Thanks, Message, OptOut)]


def test_the_mail_offers_three_links_that_choose_the_answer(browser, check_in) -> None:
    links = re.findall(r"http\S+/answer/\S+\?a=(\w+)", check_in.body_text)
    assert links == list(Answer)
    for answer in links:
        page = browser.get(address(check_in), {"a": answer}).content.decode()
        assert re.search(rf'value="{answer}"[^>]*checked', page)
        assert page.count("checked") == 1


def test_scanners_that_follow_every_link_change_nothing(browser, check_in) -> None:
    before = rows()
    for answer in list(Answer) * 7:
        assert browser.get(address(check_in), {"a": answer}).status_code == 200
        browser.head(address(check_in), {"a": answer})
        browser.get(address(check_in, "answer-sent"))
        browser.get(reverse("stop", args=[letters.stop_signer().sign(check_in.pk.hex)]))
    assert rows() == before


def test_one_press_answers_and_the_office_and_crew_hear(browser, check_in) -> None:
    answer = {"id": uuid.uuid4(), "answer": "well", "text": "Very tidy."}
    response = browser.post(address(check_in), answer)
    assert response["Location"] == address(check_in, "answer-sent")
    assert "Your words go to the people" in browser.get(response["Location"]).content.decode()
    assert Thanks.objects.get().person.name == "Ana"
    browser.post(address(check_in), answer)  # a second tap
    assert Reply.objects.count() == 1


def test_something_wrong_shows_danger_phone_and_what_happens_next(browser, check_in) -> None:
    page = browser.get(address(check_in), {"a": "wrong"}).content.decode()
    for words in ("911", "licensed", "tel:+16145550100", "Scioto Valley Power"):
        assert words in page
    browser.post(address(check_in), {"answer": "wrong", "text": "It trips."})
    page = browser.get(address(check_in, "answer-sent")).content.decode()
    for words in ("911", "Someone will call you", "tel:+16145550100", "do not open the panel"):
        assert words in page
    assert Callback.objects.get().what == "It trips."


def test_pictures_come_along_and_a_bad_one_costs_nothing_else(browser, check_in) -> None:
    files = [picture(), SimpleUploadedFile("note.txt", b"hello"), picture((50, 20))]
    response = browser.post(
        address(check_in), {"answer": "wrong", "text": "Look.", "photos": files}, follow=True
    )
    reply = Reply.objects.get()
    assert [(photo.width, photo.height) for photo in reply.photos.all()] == [(40, 30), (50, 20)]
    assert "note.txt" in response.content.decode()
    assert "not a picture" in response.content.decode()


def test_no_more_than_six_pictures(browser, check_in) -> None:
    files = [picture((40, 30 + number)) for number in range(8)]
    browser.post(address(check_in), {"answer": "wrong", "photos": files})
    assert Reply.objects.get().photos.count() == 6


def test_without_a_choice_the_words_stay(browser, check_in) -> None:
    page = browser.post(address(check_in), {"text": "I wrote a lot."}).content.decode()
    assert "Choose one of the three." in page
    assert "I wrote a lot." in page
    assert not Reply.objects.exists()


def test_answering_again_shows_the_first_answer_and_keeps_both(browser, check_in) -> None:
    browser.post(address(check_in), {"answer": "wrong", "text": "It trips."})
    assert "is with us" in browser.get(address(check_in)).content.decode()
    browser.post(address(check_in), {"answer": "well", "text": "Solved."})
    assert Reply.objects.count() == 2


@pytest.mark.parametrize("how", ["revoked", "expired", "forged", "other_purpose"])
def test_a_link_that_is_no_good_says_whom_to_call_and_answers_nothing(
    how: str, browser, check_in
) -> None:
    link = made.link(check_in)
    token = link.token
    if how == "revoked":
        CustomerLink.objects.filter(pk=link.pk).update(revoked_at=made.WEEK_LATER)
    elif how == "expired":
        CustomerLink.objects.filter(pk=link.pk).update(expires_at=made.WEEK_LATER)
    elif how == "forged":
        token = token[:-2] + ("aa" if not token.endswith("aa") else "bb")
    else:
        CustomerLink.objects.filter(pk=link.pk).update(purpose="door")
    for answer in (browser.get, browser.post):
        response = answer(reverse("answer", args=[token]), {"answer": "wrong"})
        assert response.status_code in (404, 410)
        assert "tel:+16145550100" in response.content.decode()
    assert not Reply.objects.exists()


def test_the_page_keeps_its_address_to_itself(browser, check_in) -> None:
    response = browser.get(address(check_in))
    assert response["Referrer-Policy"] == "no-referrer"
    assert "no-store" in response["Cache-Control"]
    assert "noindex" in response["X-Robots-Tag"]


def test_a_flood_of_answers_is_stopped(browser, check_in) -> None:
    for _number in range(20):
        browser.post(address(check_in), {"answer": "well"})
    assert browser.post(address(check_in), {"answer": "well"}).status_code == 429
    assert Reply.objects.count() == 20


def test_stopping_takes_one_press_and_can_be_taken_back(browser, check_in) -> None:
    stop = reverse("stop", args=[letters.stop_signer().sign(check_in.pk.hex)])
    assert stop in check_in.body_text
    response = browser.get(stop)
    assert check_in.to not in response.content.decode()  # the link tells nobody's address
    # RFC 8058: no cookies, no referrer, answered without a redirect
    answered = browser.post(stop, {"List-Unsubscribe": "One-Click"})
    assert answered.status_code == 200
    assert OptOut.objects.count() == 1
    assert "@" not in OptOut.objects.get().address_hash
    browser.post(stop, {"again": "yes"})
    assert not OptOut.objects.exists()
    assert browser.get(reverse("stop", args=["forged.token"])).status_code == 404


def test_the_customer_reads_the_hour_of_their_own_clock(browser, check_in, time_machine) -> None:
    site = check_in.job.site
    site.time_zone = "America/Denver"
    site.save()
    time_machine.move_to(dt.datetime(2026, 12, 8, 20, 30, tzinfo=dt.UTC))
    browser.post(address(check_in), {"answer": "well", "text": "All fine.", "id": uuid.uuid4()})
    page = browser.get(address(check_in, "answer-sent")).content.decode()
    assert "Dec. 8, 2026, 1:30 p.m." in page  # 3:30 p.m. where the firm is
