"""Will it fit, asked on the page: every method, the ways out, on the list, kept."""

from __future__ import annotations

import datetime as dt
import html
import re
from urllib.parse import urlencode

import pytest
from django.test import Client
from django.urls import reverse

from contractor.models import Site
from panels.models import Calculation, Load
from panels.services import calculations
from tests.factories.panels import a_recorder
from tests.panels import reading
from tests.panels.test_load_pages import adopted
from tests.panels.views.test_shop import HOME, STORE, text

pytestmark = pytest.mark.django_db
NOW = dt.datetime(2026, 11, 25, 15, tzinfo=dt.UTC)
CHARGER = {"kind": "vehicle", "name": "Charger", "nameplate": 48, "unit": "A", "volts": 240,
           "count": 1}  # fmt: skip
LISTED = (
    {"kind": "range", "nameplate": 12, "unit": "kW"},
    {"kind": "dryer", "nameplate": 5, "unit": "kW"},
    {"kind": "water_heater", "nameplate": 4.5, "unit": "kW"},
)


@pytest.fixture
def home(browser: Client, site: Site) -> Site:
    """The home of tests/panels/rules/fit/test_question.py, on 100 A."""
    adopted(site, edition="2023")
    browser.post(reverse("load-home", args=[site.pk]), {**HOME, "service_a": 100})
    for load in LISTED:
        answer = browser.post(reverse("load-add", args=[site.pk]), {**load, "count": 1})
        assert answer.status_code == 302
    return site


def asked(site: Site, **said: object) -> str:
    return f"{reverse('fit', args=[site.pk])}?{urlencode({**CHARGER, **said})}"


def test_before_the_premises_are_known_the_page_says_what_comes_first(browser, site):
    shown = text(browser.get(reverse("fit", args=[site.pk])))
    assert "Nothing is known of these premises yet" in shown
    assert reverse("load", args=[site.pk]) in shown


def test_every_method_stands_beside_the_others_with_its_ways_out(browser, home):
    """The figures are worked by hand in tests/panels/rules/fit/test_question.py."""
    shown = text(browser.get(asked(home)))
    for said in ("34,120 VA", "22,808 VA", "21,608 VA", "150 A", "5 A", "Side by side"):
        assert said in shown, said
    assert shown.count("does not fit") == 1
    assert "none needed" in shown


def test_each_quick_choice_is_worked_out_at_once(browser, home):
    shown = text(browser.get(reverse("fit", args=[home.pk])))
    links = re.findall(r'class="button small" href="([^"#]+)', shown)
    assert len(links) == 7
    for link in links:
        answer = browser.get(html.unescape(link))
        assert answer.status_code == 200, text(answer)
        assert "Side by side" in text(answer), link


def test_a_shop_is_offered_what_shops_have(browser, site):
    adopted(site, edition="2023")
    browser.post(reverse("load-shop", args=[site.pk]), STORE)
    shown = text(browser.get(reverse("fit", args=[site.pk])))
    assert "Range, 12 kW" not in shown
    assert "Small shop, general rules" in text(browser.get(asked(site)))


def test_a_missing_rating_or_nameplate_is_asked_for(browser, home):
    missing = browser.get(asked(home, nameplate=""))
    assert missing.status_code in (200, 422)
    assert "Side by side" in text(missing)  # 2023 knows what an unknown one counts
    missing = browser.get(asked(home, kind="heat_pump", nameplate=""))
    assert "Read it off the nameplate" in text(missing)
    assert "Side by side" not in text(missing)
    browser.post(reverse("load-home", args=[home.pk]), {**HOME, "service_a": "", "rev": 1})
    unrated = text(browser.get(asked(home)))
    assert "Say the rating of the service that is there now" in unrated
    assert "34,120 VA" in text(browser.get(asked(home, service_a=100)))


def test_without_an_adoption_the_edition_is_asked_for(browser, site):
    browser.post(reverse("load-home", args=[site.pk]), {**HOME, "service_a": 100})
    shown = text(browser.get(asked(site)))
    assert "No adopted edition is recorded" in shown
    assert "Side by side" not in shown
    assert "Side by side" in text(browser.get(asked(site, edition="2026")))


def test_it_is_put_on_the_list_as_new(browser, home):
    shown = text(browser.get(asked(home, continuous="on")))
    form = shown[shown.index(f'action="{reverse("load-add", args=[home.pk])}"') :]
    form = form[: form.index("</form>")]
    fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
    answer = browser.post(reverse("load-add", args=[home.pk]), fields)
    assert answer.status_code == 302, text(answer)
    load = Load.objects.get(kind="vehicle")
    assert (load.name, load.nameplate, load.unit, load.new) == ("Charger", 48, "A", True)
    assert load.continuous


def test_the_answer_is_kept_as_it_is_and_printed(browser, home):
    answer = browser.post(asked(home), {"purpose": "charger in the garage"})
    assert answer.status_code == 302, text(answer)
    made = Calculation.objects.get()
    assert (made.method, made.purpose) == ("fit", "charger in the garage")
    assert "fits" in made.short
    shown = text(browser.get(answer["Location"]))
    assert "34,120 VA" in shown
    paper = reading.text(browser.get(reverse("worksheet", args=[made.pk])).content)
    for said in ("Charger", "being added", "1,500 ft²", "12 kW"):
        assert said in paper


def test_keeping_by_another_edition_asks_who_stated_it(browser, home):
    refused = browser.post(asked(home), {"edition": "2017"})
    assert refused.status_code == 422
    assert "Say who stated the edition" in text(refused)
    assert not Calculation.objects.exists()


def test_what_the_meter_recorded_stands_beside_the_others_once_it_was_kept(browser, home):
    given = {
        "demand": "9.1 kVA", "days": 365, "interval": "15 min", "renewable": False,
        "service": {"system": "1ph-240", "rating": "100 A"},
    }  # fmt: skip
    calculations.keep(site=home, method="metered", inputs=given, by=a_recorder(), now=NOW)
    shown = text(browser.get(asked(home)))
    assert "Existing load by its meter" in shown
    assert "22,895 VA" in shown


def test_the_load_page_and_the_site_lead_here(browser, home, panel):
    for page in ("load", "site"):
        shown = text(browser.get(reverse(page, args=[home.pk])))
        assert reverse("fit", args=[home.pk]) in shown, page
