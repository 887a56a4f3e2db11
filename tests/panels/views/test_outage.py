"""The outage of a site: told in a sentence, pictured, judged stage by stage, kept."""

from __future__ import annotations

import datetime as dt
import re

import pytest
from django.urls import reverse

from panels.models import Calculation
from panels.services import load
from panels.views.outage_words import span
from tests.factories.panels import a_panel, a_recorder
from tests.panels.standby import a_backed_up_house, a_battery
from tests.panels.test_load_pages import adopted

pytestmark = pytest.mark.django_db
WINTER = {"day": "2026-01-15", "clock": "18:00", "hours": "48", "until": "07:00", "shed": "0"}


@pytest.fixture
def house(site):
    house = a_backed_up_house(site)
    adopted(site)
    a_battery(site)
    return house


def page(site):
    return reverse("outage", args=[site.pk])


def shown(answer):
    return " ".join(answer.content.decode().split())


def test_without_a_source_or_a_backed_up_circuit_it_leads_to_what_is_missing(browser, site):
    assert "Nothing here can feed the panels" in shown(browser.get(page(site)))
    a_panel(site)
    a_battery(site)
    text = shown(browser.get(page(site)))
    assert "No circuit is backed up yet" in text
    assert reverse("backup", args=[site.pk]) in text


def test_it_opens_on_this_evening_with_everything_on(browser, house):
    text = shown(browser.get(page(house.site)))
    assert "With everything on: " in text
    assert "outage-title" in text
    assert "Water heater" in text
    assert "never feed a panel through a receptacle" in text


def test_each_stage_is_told_with_its_hours_and_limits(browser, house):
    text = shown(browser.get(page(house.site), WINTER))
    lasts = re.findall(r"(\d+) h (?:(\d+) min)?, until", text)
    assert len(lasts) >= 3
    assert "Well pump" in text
    assert "within the surge" in text
    assert "Everything up to number 2 off" in text


def test_the_picture_has_its_words_and_its_table(browser, house):
    text = shown(browser.get(page(house.site), {**WINTER, "let_go": "60"}))
    assert '<title id="outage-title">' in text
    assert "With everything on" in re.search(r"<desc[^>]*>(.*?)</desc>", text)[1]
    assert re.search(r">1(–2)? off</text>", text)
    assert "With more let go on the way" in text
    hours = re.search(r'<table class="sheet stay">.*?</table>', text)[0]
    assert hours.count("<tr>") > 10
    assert "Thu 18:00" in hours
    numbers = [float(one) for one in re.findall(r'd="M([\d.]+) ', text)]
    assert all(0 <= one <= 720 for one in numbers)


def test_where_it_goes_dark_the_picture_says_so(browser, house):
    text = shown(browser.get(page(house.site), WINTER))
    assert ">dark</text>" in text


def test_a_wrong_question_is_refused_at_its_field(browser, house):
    answer = browser.get(page(house.site), {**WINTER, "day": "soon", "let_go": "120"})
    text = shown(answer)
    assert answer.status_code == 200
    assert "Enter a valid date" in text
    assert "outage-title" not in text
    far = shown(browser.get(page(house.site), {**WINTER, "day": "9999-12-31"}))
    assert "Choose a day from 2000 to 2100" in far


def test_sizes_are_given_by_manual_and_by_automatic_transfer(browser, house):
    load.record_home(site=house.site, by=a_recorder(), floor_area_ft2=1500, managed_a=20)
    text = shown(browser.get(page(house.site), WINTER))
    for words in ("by manual transfer", "by automatic transfer", "with load management"):
        assert f"Garage battery {words}" in text.replace("by automatic transfer with", "with")
    assert "702.4(B)(1)" in text
    assert "as recorded" in text


def test_without_the_home_the_whole_load_is_asked_for(browser, house):
    assert "Record the floor area" in shown(browser.get(page(house.site), WINTER))


def test_an_unknown_edition_is_asked_for_and_the_hours_are_told_all_the_same(browser, site):
    house = a_backed_up_house(site)
    a_battery(site)
    text = shown(browser.get(page(house.site), WINTER))
    assert "Which edition?" in text
    assert "With everything on: " in text
    assert "702.4(B)(1)" in shown(browser.get(page(house.site), {**WINTER, "edition": "2017"}))


def test_an_outage_is_kept_printed_and_never_loses_what_was_asked(browser, house):
    address = f"{page(house.site)}?day=2026-01-15&clock=18:00&hours=24&shed=1"
    browser.post(address, {"what": "outage", "purpose": "For the owner"})
    made = Calculation.objects.get(site=house.site)
    assert (made.method, made.edition, made.purpose) == ("outage", "2017", "For the owner")
    assert made.inputs["start"] == "2026-01-15 18:00"
    assert made.inputs["shed"] == 1
    text = shown(browser.get(reverse("calculation", args=[made.pk])))
    assert "As chosen: up to 1 off" in text
    paper = browser.get(reverse("worksheet", args=[made.pk]))
    assert paper.content.startswith(b"%PDF")


def test_a_size_is_kept_by_its_own_question(browser, house):
    source = house.site.sources.get()
    browser.post(
        f"{page(house.site)}?day=2026-01-15&clock=18:00&hours=24&shed=0",
        {"what": f"manual-{source.pk}"},
    )
    made = Calculation.objects.get(site=house.site)
    assert made.method == "standby_size"
    assert made.inputs["transfer"] == "manual"
    assert len(made.inputs["loads"]) == 3


def test_nothing_else_can_be_kept(browser, house):
    answer = browser.post(page(house.site), {"what": "anything"})
    assert answer.status_code == 422
    assert not Calculation.objects.exists()


def test_it_is_linked_from_the_site_and_from_its_backed_up_circuits(browser, house):
    link = page(house.site)
    assert link in shown(browser.get(reverse("backup", args=[house.site_id])))
    assert link in shown(browser.get(reverse("site", args=[house.site_id])))


@pytest.mark.parametrize(
    ("hours", "told"),
    [(0.5, "30 min"), (5.25, "5 h 15 min"), (9.0, "9 h"), (9.61875, "9 h 37 min")],
)
def test_hours_are_told_in_whole_minutes_rounded_down(hours, told):
    assert span(hours) == told


def test_the_api_answers_from_the_record(phone, house):
    asked = {"from": "2026-01-15T18:00", "stages": 1, "hours": 24}
    answer = phone.get(f"/api/v1/sites/{house.site_id}/outage", asked)
    assert answer.status_code == 200, answer.json()
    assert answer.json()["inputs"]["shed"] == 1
    again = phone.post(
        "/api/v1/calculations/preview",
        {"method": "outage", "edition": "2017", "inputs": answer.json()["inputs"]},
        format="json",
    )
    assert again.json() == answer.json()["result"]


def test_a_moment_with_an_offset_is_put_on_the_clock_of_the_site(phone, house):
    url = f"/api/v1/sites/{house.site_id}/outage"
    noon = dt.datetime(2026, 1, 15, 12, tzinfo=dt.UTC).astimezone(house.site.zone)
    told = phone.get(url, {"from": "2026-01-15T12:00:00Z"}).json()["inputs"]["start"]
    assert told == f"{noon:%Y-%m-%d %H:%M}"


@pytest.mark.parametrize(
    "asked",
    [{"from": "tonight"}, {"hours": 0}, {"stages": -1}, {"stages": 9}, {"profile": "meter"}],
)
def test_the_api_refuses_in_words(phone, house, asked):
    answer = phone.get(f"/api/v1/sites/{house.site_id}/outage", asked)
    assert answer.status_code in (400, 409, 422)
    assert answer.json()["detail"]
